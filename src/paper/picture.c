/* SPDX-License-Identifier: Apache-2.0 */
#include "paper/picture.h"

#include "paper/surface.h"

#include <librsvg/rsvg.h>
#include <math.h>

/* The drawing over all of a surface, `scale` to the unit. BASE_SYSTEM where librsvg can't. */
static enum base_status draw(cairo_surface_t *surface, RsvgHandle *handle, RsvgRectangle page, double scale) {
    cairo_t *cairo = cairo_create(surface);
    cairo_scale(cairo, scale, scale);
    bool drawn = rsvg_handle_render_document(handle, cairo, &page, NULL);
    enum base_status status = paper_surface_status(cairo_status(cairo));
    cairo_destroy(cairo);
    return status == BASE_OK && !drawn ? BASE_SYSTEM : status;
}

/* NULL where it is no SVG, or too large. */
static RsvgHandle *open_svg(RsvgRectangle *page, struct base_slice svg, double scale) {
    RsvgHandle *handle = rsvg_handle_new_from_data((const guint8 *)svg.at, svg.n, NULL);
    *page = (RsvgRectangle){0};
    bool sized = handle && rsvg_handle_get_intrinsic_size_in_pixels(handle, &page->width, &page->height) &&
                 fmax(page->width, page->height) * scale <= PAPER_PIXELS_MAX;
    if (handle && !sized) {
        g_object_unref(handle);
    }
    return sized ? handle : NULL;
}

enum base_status paper_png(struct base_buffer *out, struct base_slice svg, double scale) {
    RsvgRectangle page;
    RsvgHandle *handle = open_svg(&page, svg, scale);
    if (!handle) {
        return BASE_BAD_INPUT;
    }
    cairo_surface_t *surface =
        cairo_image_surface_create(CAIRO_FORMAT_ARGB32, (int)ceil(page.width * scale), (int)ceil(page.height * scale));
    enum base_status status = draw(surface, handle, page, scale);
    if (status == BASE_OK) {
        status = paper_surface_status(cairo_surface_write_to_png_stream(surface, paper_surface_keep, out));
    }
    cairo_surface_destroy(surface);
    g_object_unref(handle);
    return status;
}

enum base_status paper_page(struct base_buffer *out, struct base_slice svg, const char *title, const char *author,
                            int32_t day) {
    const double scale = PAPER_MM / PAPER_UNITS_PER_MM;
    RsvgRectangle page;
    RsvgHandle *handle = open_svg(&page, svg, 1.0);
    if (!handle) {
        return BASE_BAD_INPUT;
    }
    cairo_surface_t *surface =
        cairo_pdf_surface_create_for_stream(paper_surface_keep, out, page.width * scale, page.height * scale);
    paper_surface_describe(surface, title, author, day);
    enum base_status status = draw(surface, handle, page, scale);
    cairo_surface_finish(surface);
    status = status == BASE_OK ? paper_surface_status(cairo_surface_status(surface)) : status;
    cairo_surface_destroy(surface);
    g_object_unref(handle);
    return status;
}
