/* SPDX-License-Identifier: Apache-2.0 */
#include "app/text.h"

#include "explain/fault.h"

/* Not wrapped: one fault, one line, as editors and other programs take it. */
void app_text_faults(struct base_buffer *out, const struct base_faults *faults) {
    for (size_t i = 0; i < faults->n; i++) {
        explain_fault(out, &faults->list[i]);
        base_buffer_char(out, '\n');
    }
    if (faults->total > faults->n) {
        explain_faults_left(out, faults);
        base_buffer_char(out, '\n');
    }
}
