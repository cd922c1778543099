/* SPDX-License-Identifier: Apache-2.0 */
#include "format/reader.h"

struct format_reader format_reader_of(const char *file, struct base_faults *faults, struct base_arena *arena,
                                      struct trade_names *names) {
    return (struct format_reader){
        .source = {.file = file, .faults = faults}, .arena = arena, .names = names, .before = faults->total};
}

enum base_status format_reader_end(const struct format_reader *reader) {
    if (reader->no_memory) {
        return BASE_NO_MEMORY;
    }
    return reader->source.faults->total > reader->before ? BASE_BAD_INPUT : BASE_OK;
}
