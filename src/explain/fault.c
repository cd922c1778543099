/* SPDX-License-Identifier: Apache-2.0 */
#include "explain/fault.h"

#include "explain/message.h"

#include <string.h>

static void put_place(struct base_buffer *out, const struct base_fault *fault) {
    base_buffer_text(out, fault->file);
    const uint32_t numbers[] = {fault->line, fault->column};
    for (size_t i = 0; i < 2 && numbers[i] > 0; i++) {
        base_buffer_char(out, ':');
        base_buffer_int(out, numbers[i]);
    }
    base_buffer_text(out, ": ");
    if (fault->path) {
        base_buffer_text(out, fault->path);
        base_buffer_text(out, ": ");
    }
}

static bool begins(const char *text, const char *with) { return strncmp(text, with, strlen(with)) == 0; }

static bool is_number(const char *text) { return (text[0] >= '0' && text[0] <= '9') || text[0] == '-'; }

/* How what is allowed goes into a sentence: a bare range, one thing, or several. */
static const char *sentence_of(const char *allowed, const char *nearest) {
    if (is_number(allowed)) {
        return nearest ? "fault.range-near" : "fault.range";
    }
    if (begins(allowed, "a ") || begins(allowed, "an ") || begins(allowed, "one of ") || begins(allowed, "the ")) {
        return !nearest ? "fault.one" : is_number(nearest) ? "fault.one-number" : "fault.one-word";
    }
    return nearest ? "fault.many-word" : "fault.many";
}

void explain_fault(struct base_buffer *out, const struct base_fault *fault) {
    put_place(out, fault);
    if (fault->found) {
        explain_tell(out, sentence_of(fault->allowed, fault->nearest), explain_words(fault->found),
                     explain_words(fault->allowed), explain_words(fault->nearest));
    } else if (fault->nearest) {
        explain_tell(out, "fault.unknown-near", explain_words(fault->nearest));
    } else {
        explain_tell(out, "fault.unknown-allowed", explain_words(fault->allowed));
    }
}

void explain_faults_left(struct base_buffer *out, const struct base_faults *faults) {
    if (faults->total > faults->n) {
        explain_tell(out, "fault.more", explain_count((int64_t)(faults->total - faults->n)));
    }
}
