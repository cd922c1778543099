/* SPDX-License-Identifier: Apache-2.0 */
#include "explain/record.h"

#include "explain/message.h"
#include "explain/value.h"

#include <math.h>

static void put_reason(struct base_buffer *out, const struct work_entry *entry) {
    if (entry->reason) {
        base_buffer_text(out, " ");
        explain_tell(out, "record.reason", explain_words(entry->reason));
    }
}

void explain_allowed(struct base_buffer *out, const struct work_entry *entry) {
    struct explain_arg low = explain_number(entry->low, explain_tenths_of(entry->low), "");
    struct explain_arg high = explain_number(entry->high, explain_tenths_of(entry->high), "");
    if (entry->low >= entry->high) {
        explain_put_arg(out, &low);
    } else if (!isnan(entry->low) && !isnan(entry->high)) {
        explain_tell(out, "record.allowed", low, high);
    } else if (!isnan(entry->low)) {
        explain_tell(out, "record.at-least", low);
    } else if (!isnan(entry->high)) {
        explain_tell(out, "record.at-most", high);
    }
}

void explain_measured(struct base_buffer *out, const struct work_entry *entry, const char *what, const char *unit) {
    struct base_buffer allowed;
    base_buffer_init(&allowed, 0);
    explain_allowed(&allowed, entry);
    explain_tell(out, allowed.n > 0 ? "record.measured-limits" : "record.measured", explain_words(what),
                 explain_number(entry->value, explain_tenths_of(entry->value), unit), explain_buffered(&allowed));
    if (work_out_of_limit(entry)) {
        base_buffer_text(out, " ");
        explain_say(out, "record.outside");
    }
    base_buffer_clear(&allowed);
    put_reason(out, entry);
}

void explain_entry(struct base_buffer *out, const struct work_entry *entry) {
    switch (entry->kind) {
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
