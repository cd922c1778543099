/* SPDX-License-Identifier: Apache-2.0 */
#include "format/catalogue_in.h"

#include "format/csv.h"
#include "format/money_in.h"
#include "format/part_in.h"
#include "format/seen.h"
#include "trade/bike.h"
#include "trade/vocabulary.h"

#include <stdlib.h>
#include <string.h>

/* What a column holds: one of these, or a property of the kind (>= 0). */
enum { COLUMN_ID = -5, COLUMN_PRICE, COLUMN_STOCK, COLUMN_DAYS, COLUMN_SUPPLIER, COLUMN_PROPERTY = 0 };

static const char *const own_columns[] = {"id", "price", "stock", "days", "supplier"};
enum { OWN_COLUMNS = sizeof own_columns / sizeof own_columns[0] };

/* A file while it is read. */
struct table {
    struct format_catalogue *builder;
    struct format_reader reader;
    enum trade_kind kind;
    struct format_csv csv;
    int column[FORMAT_CSV_FIELDS];
    const char *name[FORMAT_CSV_FIELDS]; /* of the columns; in the tables, or static */
    const char *file;                    /* in the builder's arena */
};

static const char wanted[] = "a line of column names, id and price among them, then a line for each part";

static struct format_place cell_place(const struct table *table, size_t i) {
    return (struct format_place){
        .source = &table->reader.source, .field = &table->csv.fields[i], .name = table->name[i]};
}

/* --- column names ------------------------------------------------------------------------------------------------- */

/* The column of this name; false with a fault told. */
static bool know_column(struct table *table, size_t i) {
    struct base_slice name = table->csv.fields[i].text;
    for (int own = 0; own < OWN_COLUMNS; own++) {
        if (base_slice_is(name, own_columns[own])) {
            table->column[i] = COLUMN_ID + own;
            table->name[i] = own_columns[own];
            return true;
        }
    }
    int property = trade_find_property(table->kind, name);
    if (property >= 0) {
        table->column[i] = property;
        table->name[i] = trade_property_rows[property].name;
        return true;
    }
    struct format_place place = cell_place(table, i);
    char path[FORMAT_NAME_CHARS] = "";
    memcpy(path, name.at, name.n < sizeof path ? name.n : sizeof path - 1);
    place.name = path;
    format_fault_property(&place, name, table->kind, own_columns, OWN_COLUMNS);
    return false;
}

static void check_column_once(struct table *table, size_t i) {
    for (size_t k = 0; k < i; k++) {
        if (table->name[k] == table->name[i]) {
            struct format_place place = cell_place(table, i);
            format_fault(&place, "it twice", "each column once", NULL);
            return;
        }
    }
}

static void check_column_there(struct table *table, const char *name) {
    for (size_t i = 0; i < table->csv.n; i++) {
        if (table->name[i] && strcmp(table->name[i], name) == 0) {
            return;
        }
    }
    struct format_place place = {.source = &table->reader.source, .field = &table->csv.fields[0], .name = name};
    format_fault(&place, "no such column", "a column of this name", NULL);
}

/* A list saved with semicolons or tabs is one column: say so instead of calling its name unknown. */
static bool is_other_separator(const struct table *table) {
    struct base_slice first = table->csv.fields[0].text;
    char separator = memchr(first.at, ';', first.n) ? ';' : '\t';
    if (table->csv.n > 1 || !memchr(first.at, separator, first.n)) {
        return false;
    }
    struct format_place place = cell_place(table, 0);
    format_fault(&place, separator == ';' ? "semicolons" : "tabs", "commas between columns, points in numbers", NULL);
    return true;
}

/* The first line. False when it was faulty: no other line can be understood then. */
static bool read_columns(struct table *table) {
    size_t before = table->reader.source.faults->total;
    enum base_status status = format_csv_next(&table->csv);
    if (status != BASE_OK) {
        table->reader.no_memory = status == BASE_NO_MEMORY;
        return false;
    }
    if (is_other_separator(table)) {
        return false;
    }
    for (size_t i = 0; i < table->csv.n; i++) {
        if (know_column(table, i)) {
            check_column_once(table, i);
        }
    }
    check_column_there(table, "id");
    check_column_there(table, "price");
    return table->reader.source.faults->total == before;
}

/* --- parts -------------------------------------------------------------------------------------------------------- */

enum { ID_MAX = 64, SUPPLIER_MAX = 60 };

static bool is_id(struct base_slice text) {
    for (size_t i = 0; i < text.n; i++) {
        if (text.at[i] < '!' || text.at[i] > '~') {
            return false;
        }
    }
    /* These two stand for a part in an answer. */
    return text.n >= 1 && text.n <= ID_MAX && !base_slice_is(text, "keep") && !base_slice_is(text, "none");
}

static void fault_id_twice(const struct format_place *place, const struct format_item *item,
                           const struct format_seen *first) {
    struct base_buffer allowed;
    base_buffer_init(&allowed, 0);
    base_buffer_text(&allowed, "each id once; it stands in ");
    base_buffer_text(&allowed, first->file);
    base_buffer_char(&allowed, ':');
    base_buffer_int(&allowed, first->line);
    base_buffer_text(&allowed, " already");
    format_fault_item(place, item, format_text(&allowed), NULL);
    base_buffer_clear(&allowed);
}

static void read_id(struct table *table, struct trade_part *part, const struct format_place *place,
                    const struct format_item *item) {
    struct format_catalogue *builder = table->builder;
    if (!is_id(item->text)) {
        format_fault_item(place, item, "an id of 1 to 64 letters, digits and signs without blanks, not keep or none",
                          NULL);
        return;
    }
    part->id = base_arena_copy(&builder->catalogue.arena, item->text.at, item->text.n);
    const struct format_seen *first = NULL;
    if (!part->id || !format_seen_add(builder, part->id, table->file, place->field->line, &first)) {
        table->reader.no_memory = true;
    } else if (first) {
        fault_id_twice(place, item, first);
    }
}

/* A whole number; an empty cell stays -1. */
static void read_whole(int32_t *out, const struct format_place *place, const struct format_item *item, double most) {
    double number;
    if (item->type != FORMAT_NOTHING &&
        format_read_number(&number, place, item, (struct format_range){.high = most, .whole = true})) {
        *out = (int32_t)number;
    }
}

static void read_price(struct trade_part *part, const struct format_place *place, const struct format_item *item,
                       const struct trade_shop *shop) {
    if (format_read_amount(&part->listed_minor, place, item, shop)) {
        part->price_minor = trade_without_tax(shop, part->listed_minor, shop->tax_thousandths);
    }
}

static void read_supplier(struct table *table, struct trade_part *part, const struct format_place *place,
                          const struct format_item *item) {
    struct base_slice name;
    if (item->type == FORMAT_NOTHING || !format_read_text(&name, place, item, SUPPLIER_MAX)) {
        return;
    }
    part->supplier = base_arena_copy(&table->builder->catalogue.arena, name.at, name.n);
    table->reader.no_memory = table->reader.no_memory || !part->supplier;
}

static void read_cell(struct table *table, struct trade_part *part, size_t i) {
    struct format_place place = cell_place(table, i);
    struct format_item item = format_item_cell(table->csv.fields[i].text);
    struct trade_value value;
    switch (table->column[i]) {
    case COLUMN_ID:
        read_id(table, part, &place, &item);
        break;
    case COLUMN_PRICE:
        read_price(part, &place, &item, table->builder->shop);
        break;
    case COLUMN_SUPPLIER:
        read_supplier(table, part, &place, &item);
        break;
    case COLUMN_STOCK:
        read_whole(&part->stock, &place, &item, 1e6);
        break;
    case COLUMN_DAYS:
        read_whole(&part->days, &place, &item, TRADE_DAYS_MOST);
        break;
    default:
        if (item.type != FORMAT_NOTHING &&
            format_read_value(&value, &table->reader, &place, &item, (enum trade_property)table->column[i])) {
            trade_set(part, (enum trade_property)table->column[i], value);
        }
    }
}

/* Room for one more part of the kind; NULL without memory. */
static struct trade_part *new_part(struct table *table) {
    struct format_catalogue *builder = table->builder;
    struct trade_catalogue *catalogue = &builder->catalogue;
    size_t n = catalogue->n[table->kind];
    if (n == builder->room[table->kind]) {
        struct trade_part *home = base_arena_grow(&catalogue->arena, catalogue->parts[table->kind], n,
                                                  &builder->room[table->kind], n + 1, sizeof *home);
        if (!home) {
            return NULL;
        }
        catalogue->parts[table->kind] = home;
    }
    struct trade_part *part = &catalogue->parts[table->kind][n];
    if (trade_part_init(part, &catalogue->arena, table->kind) != BASE_OK) {
        return NULL;
    }
    catalogue->n[table->kind]++;
    catalogue->n_all++;
    return part;
}

static void read_rows(struct table *table) {
    enum base_status status;
    while (!table->reader.no_memory && (status = format_csv_next(&table->csv)) != BASE_NO) {
        struct trade_part *part = status == BASE_OK ? new_part(table) : NULL;
        if (!part) {
            table->reader.no_memory = true;
            return;
        }
        for (size_t i = 0; i < table->csv.n; i++) {
            read_cell(table, part, i);
        }
    }
}

/* --- the builder -------------------------------------------------------------------------------------------------- */

void format_catalogue_init(struct format_catalogue *out, const struct trade_shop *shop, struct trade_names *names,
                           struct base_faults *faults) {
    *out = (struct format_catalogue){.shop = shop, .names = names, .faults = faults, .before = faults->total};
    trade_catalogue_init(&out->catalogue);
    base_arena_init(&out->arena, 0);
}

void format_catalogue_clear(struct format_catalogue *builder) {
    trade_catalogue_clear(&builder->catalogue);
    base_arena_clear(&builder->arena);
    free(builder->seen);
    builder->seen = NULL;
    builder->n_seen = builder->room_seen = 0;
}

/* Kinds that fill a slot are sold; a frame, a wheel with its tyre, a bike and a rider are not. */
static size_t sold_kinds(const char *names[TRADE_KINDS], bool sold[TRADE_KINDS]) {
    size_t n = 0;
    memset(sold, 0, TRADE_KINDS * sizeof sold[0]);
    for (size_t slot = 0; slot < TRADE_SLOTS; slot++) {
        enum trade_kind kind = trade_slot_rows[slot].kind;
        if (!sold[kind]) {
            sold[kind] = true;
            names[n++] = trade_kind_rows[kind].name;
        }
    }
    return n;
}

enum base_status format_catalogue_kind(enum trade_kind *out, const char *file, struct base_faults *faults) {
    static const char suffix[] = ".csv";
    const char *last = strrchr(file, '/');
    struct base_slice name = base_slice_of(last ? last + 1 : file);
    const char *names[TRADE_KINDS];
    bool sold[TRADE_KINDS];
    size_t n = sold_kinds(names, sold);
    if (name.n >= sizeof suffix - 1 && memcmp(name.at + name.n - (sizeof suffix - 1), suffix, sizeof suffix - 1) == 0) {
        name.n -= sizeof suffix - 1;
    }
    int kind = trade_find_kind(name);
    if (kind >= 0 && sold[kind]) {
        *out = (enum trade_kind)kind;
        return BASE_OK;
    }
    struct format_source source = {.file = file, .faults = faults};
    struct format_place place = {.source = &source};
    format_fault_unknown(&place, name, "a kind of part that fills a slot, and .csv", names, n);
    return BASE_BAD_INPUT;
}

/* 64-bit FNV-1a (Fowler, Noll, Vo). */
static uint64_t digest(uint64_t h, const char *bytes, size_t n) {
    for (size_t i = 0; i < n; i++) {
        h = (h ^ (unsigned char)bytes[i]) * UINT64_C(1099511628211);
    }
    return h;
}

static const uint64_t digest_start = UINT64_C(14695981039346656037);

static enum base_status read_table(struct format_catalogue *builder, struct table *table, struct base_slice bytes) {
    enum base_status status = format_csv_init(&table->csv, bytes, &table->reader.source, wanted);
    if (status != BASE_OK) {
        return status;
    }
    if (read_columns(table)) {
        read_rows(table);
    }
    format_csv_clear(&table->csv);
    builder->no_memory = builder->no_memory || table->reader.no_memory;
    return format_reader_end(&table->reader);
}

enum base_status format_catalogue_add(struct format_catalogue *builder, enum trade_kind kind, struct base_slice bytes,
                                      const char *file) {
    struct table *table = calloc(1, sizeof *table); /* too large for some stacks */
    const char *kept = base_arena_copy(&builder->arena, file, strlen(file));
    if (!table || !kept) {
        free(table);
        builder->no_memory = true;
        return BASE_NO_MEMORY;
    }
    table->builder = builder;
    table->reader = format_reader_of(file, builder->faults, &builder->catalogue.arena, builder->names);
    table->kind = kind;
    table->file = kept;
    enum base_status status = BASE_BAD_INPUT;
    if (builder->digest[kind] != 0) {
        format_fault_line(&table->reader.source, 0, 0, "a second file of this kind", "one for each kind");
    } else {
        builder->digest[kind] = digest(digest_start, bytes.at, bytes.n);
        status = read_table(builder, table, bytes);
    }
    free(table);
    return status;
}

static int compare_ids(const void *a, const void *b) {
    return strcmp(((const struct trade_part *)a)->id, ((const struct trade_part *)b)->id);
}

/* Twelve hexadecimal digits from the kinds and the bytes of their files, whatever order the files came in. */
static char *revision(struct format_catalogue *builder) {
    static const char hex[] = "0123456789abcdef";
    char text[12];
    uint64_t h = digest_start;
    for (size_t kind = 0; kind < TRADE_KINDS; kind++) {
        char bytes[8];
        for (size_t i = 0; i < sizeof bytes; i++) {
            bytes[i] = (char)(builder->digest[kind] >> (8 * i) & 0xff);
        }
        if (builder->digest[kind] != 0) {
            h = digest(h, trade_kind_rows[kind].name, strlen(trade_kind_rows[kind].name));
            h = digest(h, bytes, sizeof bytes);
        }
    }
    for (size_t i = 0; i < sizeof text; i++) {
        text[i] = hex[h >> (60 - 4 * i) & 15];
    }
    return base_arena_copy(&builder->catalogue.arena, text, sizeof text);
}

static enum base_status settle(struct format_catalogue *builder) {
    struct trade_catalogue *catalogue = &builder->catalogue;
    if (builder->no_memory) {
        return BASE_NO_MEMORY;
    }
    if (builder->faults->total > builder->before) {
        return BASE_BAD_INPUT;
    }
    for (size_t kind = 0; kind < TRADE_KINDS; kind++) {
        if (catalogue->n[kind] > 0) {
            qsort(catalogue->parts[kind], catalogue->n[kind], sizeof catalogue->parts[kind][0], compare_ids);
        }
        for (size_t i = 0; i < catalogue->n[kind]; i++) {
            trade_part_complete(&catalogue->parts[kind][i]);
        }
    }
    catalogue->revision = revision(builder);
    return catalogue->revision ? BASE_OK : BASE_NO_MEMORY;
}

enum base_status format_catalogue_finish(struct trade_catalogue *out, struct format_catalogue *builder) {
    enum base_status status = settle(builder);
    if (status == BASE_OK) {
        *out = builder->catalogue;
        trade_catalogue_init(&builder->catalogue); /* its parts are the caller's now */
    }
    format_catalogue_clear(builder);
    return status;
}
