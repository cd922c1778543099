/* SPDX-License-Identifier: Apache-2.0 */
#include "paper/surface.h"

#include "base/date.h"
#include "paper/paper.h"

cairo_status_t paper_surface_keep(void *to, const unsigned char *bytes, unsigned n) {
    struct base_buffer *out = to;
    base_buffer_put(out, (const char *)bytes, n);
    return out->status == BASE_OK ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_NO_MEMORY;
}

enum base_status paper_surface_status(cairo_status_t status) {
    return status == CAIRO_STATUS_SUCCESS ? BASE_OK : status == CAIRO_STATUS_NO_MEMORY ? BASE_NO_MEMORY : BASE_SYSTEM;
}

void paper_surface_describe(cairo_surface_t *pdf, const char *title, const char *author, int32_t day) {
    struct base_buffer created;
    base_buffer_init(&created, 0);
    base_date_write(&created, day == PAPER_NO_DAY ? 0 : day);
    base_buffer_text(&created, "T00:00:00Z");
    cairo_pdf_surface_set_metadata(pdf, CAIRO_PDF_METADATA_TITLE, title);
    cairo_pdf_surface_set_metadata(pdf, CAIRO_PDF_METADATA_AUTHOR, author);
    cairo_pdf_surface_set_metadata(pdf, CAIRO_PDF_METADATA_CREATE_DATE, created.at ? created.at : "");
    base_buffer_clear(&created);
}
