/* SPDX-License-Identifier: Apache-2.0 */
#include "explain/record.h"

#include "explain/message.h"

#include <math.h>

static void put_reason(struct base_buffer *out, const struct work_entry *entry) {
    if (entry->reason) {
        base_buffer_text(out, " ");
        explain_tell(out, "record.reason", explain_words(entry->reason));
    }
}

void explain_measured(struct base_buffer *out, const struct work_entry *entry) {
    explain_tell(out, isnan(entry->low) ? "record.measured" : "record.measured-limits", explain_words(entry->name),
                 explain_number(entry->value, 1, ""), explain_number(entry->low, 1, ""),
                 explain_number(entry->high, 1, ""));
    if (work_out_of_limit(entry)) {
        base_buffer_text(out, " ");
        explain_say(out, "record.outside");
    }
    put_reason(out, entry);
}

void explain_entry(struct base_buffer *out, const struct work_entry *entry) {
    switch (entry->kind) {
    case WORK_MEASURED:
        explain_measured(out, entry);
        return;
    case WORK_SWAPPED:
        explain_tell(out, "record.swapped", explain_words(entry->name), explain_words(entry->text));
        break;
    case WORK_FAULT:
        explain_tell(out, "record.fault", explain_words(entry->text));
        break;
    case WORK_AGREED:
        explain_tell(out, "record.agreed", explain_words(entry->name));
        break;
    default:
        return;
    }
    put_reason(out, entry);
}
