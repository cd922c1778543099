/* SPDX-License-Identifier: Apache-2.0 */
#include "paper/png.h"

#include <cairo.h>
#include <librsvg/rsvg.h>
#include <math.h>

static cairo_status_t keep(void *to, const unsigned char *bytes, unsigned n) {
    struct base_buffer *out = to;
    base_buffer_put(out, (const char *)bytes, n);
    return out->status == BASE_OK ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_NO_MEMORY;
}

static enum base_status status_of(cairo_status_t status) {
    switch (status) {
    case CAIRO_STATUS_SUCCESS:
        return BASE_OK;
    case CAIRO_STATUS_NO_MEMORY:
        return BASE_NO_MEMORY;
    default:
        return BASE_SYSTEM;
    }
}

static enum base_status draw(struct base_buffer *out, RsvgHandle *handle, double width, double height, double scale) {
    cairo_surface_t *surface =
        cairo_image_surface_create(CAIRO_FORMAT_ARGB32, (int)ceil(width * scale), (int)ceil(height * scale));
    cairo_t *cairo = cairo_create(surface);
    const RsvgRectangle page = {0.0, 0.0, width, height};
    cairo_scale(cairo, scale, scale);
    bool drawn = rsvg_handle_render_document(handle, cairo, &page, NULL);
    enum base_status status = status_of(cairo_status(cairo));
    if (status == BASE_OK) {
        status = drawn ? status_of(cairo_surface_write_to_png_stream(surface, keep, out)) : BASE_SYSTEM;
    }
    cairo_destroy(cairo);
    cairo_surface_destroy(surface);
    return status;
}

enum base_status paper_png(struct base_buffer *out, struct base_slice svg, double scale) {
    RsvgHandle *handle = rsvg_handle_new_from_data((const guint8 *)svg.at, svg.n, NULL);
    double width, height;
    if (!handle) {
        return BASE_BAD_INPUT;
    }
    enum base_status status = BASE_BAD_INPUT;
    bool sized = rsvg_handle_get_intrinsic_size_in_pixels(handle, &width, &height);
    if (sized && width * scale <= PAPER_PIXELS_MAX && height * scale <= PAPER_PIXELS_MAX) {
        status = draw(out, handle, width, height, scale);
    }
    g_object_unref(handle);
    return status;
}
