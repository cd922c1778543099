/* SPDX-License-Identifier: Apache-2.0 */
#include "support/reference.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#define COLUMNS_MAX 24
#define ROWS_MAX 200
#define BYTES_MAX 100000
#define PATH_MAX_BYTES 4096

struct reference {
    const char *name;
    char *text; /* the file; cells are cut out of it in place */
    char *columns[COLUMNS_MAX];
    size_t n_columns;
    char *cells[ROWS_MAX][COLUMNS_MAX];
    bool used[ROWS_MAX][COLUMNS_MAX];
    bool checked[ROWS_MAX];
    size_t n_rows;
    size_t next; /* the current row, counted from 1; 0 before the first */
};

/* Cuts the next cell out of *at, in place: quotes off, zero-terminated. Gives the byte that ended it (',' or '\n'), '\0'
 * at the end of the text, or -1 for a quote that is not closed or not alone. */
static int cut_cell(char **cell, char **at) {
    char *from = *at, *to = *at;
    *cell = to;
    if (*from == '"') {
        for (from++; *from != '"' || from[1] == '"'; from++) {
            if (*from == '\0') {
                return -1;
            }
            *to++ = *from;
            from += *from == '"';
        }
        from++;
        if (*from != ',' && *from != '\n' && *from != '\0') {
            return -1;
        }
    } else {
        for (; *from != ',' && *from != '\n' && *from != '\0'; from++) {
            *to++ = *from;
        }
    }
    int end = (unsigned char)*from;
    *at = end == '\0' ? from : from + 1;
    *to = '\0';
    return end;
}

/* One line into cells. False when it is broken or has more than COLUMNS_MAX. */
static bool cut_line(char **cells, size_t *n, char **at) {
    *n = 0;
    int end = ',';
    while (end == ',' && *n < COLUMNS_MAX) {
        end = cut_cell(&cells[(*n)++], at);
    }
    return end == '\n' || end == '\0';
}

static size_t column_of(const struct reference *r, const char *column) {
    size_t i = 0;
    while (i < r->n_columns && strcmp(r->columns[i], column) != 0) {
        i++;
    }
    return i;
}

static bool for_people(const char *column) {
    return strcmp(column, "mark") == 0 || strcmp(column, "source") == 0 || strcmp(column, "note") == 0;
}

static bool mark_known(const char *mark) {
    static const char *const marks[] = {"printed", "derived", "common practice", "from memory"};
    for (size_t i = 0; i < sizeof marks / sizeof marks[0]; i++) {
        if (strcmp(mark, marks[i]) == 0) {
            return true;
        }
    }
    return false;
}

static const char *read_rows(struct reference *r, char *at) {
    size_t n;
    if (!cut_line(r->columns, &r->n_columns, &at)) {
        return "broken header";
    }
    size_t mark = column_of(r, "mark"), source = column_of(r, "source");
    if (mark == r->n_columns || source == r->n_columns) {
        return "no column mark or source";
    }
    for (; *at != '\0'; r->n_rows++) {
        if (r->n_rows == ROWS_MAX || !cut_line(r->cells[r->n_rows], &n, &at) || n != r->n_columns) {
            return "too many rows, a broken row, or one of another length than the header";
        }
        if (!mark_known(r->cells[r->n_rows][mark]) || r->cells[r->n_rows][source][0] == '\0') {
            return "a row with an unknown mark or without a source";
        }
    }
    return NULL;
}

struct reference *reference_parse(const char *name, const char *text, size_t n, char fault[REFERENCE_FAULT_MAX]) {
    struct reference *r = calloc(1, sizeof *r);
    char *copy = malloc(n + 1);
    const char *reason = "out of memory";
    if (r != NULL && copy != NULL) {
        memcpy(copy, text, n);
        copy[n] = '\0';
        r->name = name;
        r->text = copy;
        reason = strlen(copy) == n ? read_rows(r, copy) : "a zero byte";
        copy = NULL;
    }
    if (reason != NULL) {
        snprintf(fault, REFERENCE_FAULT_MAX, "%s.csv: %s after row %zu", name, reason, r != NULL ? r->n_rows : 0);
        free(copy);
        reference_free(r);
        return NULL;
    }
    return r;
}

void reference_free(struct reference *r) {
    if (r != NULL) {
        free(r->text);
        free(r);
    }
}

struct reference *reference_open(const char *name) {
    static char text[BYTES_MAX];
    char path[PATH_MAX_BYTES], fault[REFERENCE_FAULT_MAX];
    const char *root = getenv("CW_SOURCE_ROOT");
    snprintf(path, sizeof path, "%s/tests/reference/%s.csv", root != NULL ? root : ".", name);
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        fail_msg("cannot read %s", path);
    }
    size_t n = fread(text, 1, sizeof text, file);
    fclose(file);
    if (n == sizeof text) {
        fail_msg("%s is larger than %d bytes", path, BYTES_MAX);
    }
    struct reference *r = reference_parse(name, text, n, fault);
    if (r == NULL) {
        fail_msg("%s", fault);
    }
    return r;
}

bool reference_next(struct reference *r) {
    if (r->next == r->n_rows) {
        return false;
    }
    r->next++;
    return true;
}

void reference_rewind(struct reference *r) { r->next = 0; }

/* The cell of the current row, NULL when there is no such column or no current row. */
static const char *cell_of(const struct reference *r, const char *column) {
    size_t i = column_of(r, column);
    return i < r->n_columns && r->next > 0 ? r->cells[r->next - 1][i] : NULL;
}

static bool number_of(double *out, const char *cell) {
    char *end;
    if (cell == NULL || cell[0] == '\0') {
        return false;
    }
    *out = strtod(cell, &end);
    return *end == '\0' && isfinite(*out);
}

bool reference_has(const struct reference *r, const char *column) {
    const char *cell = cell_of(r, column);
    return cell != NULL && cell[0] != '\0';
}

const char *reference_word(struct reference *r, const char *column) {
    const char *cell = cell_of(r, column);
    if (cell == NULL || cell[0] == '\0') {
        fail_msg("%s.csv, row %zu: nothing in column %s", r->name, r->next, column);
    }
    r->used[r->next - 1][column_of(r, column)] = true;
    return cell;
}

double reference_number(struct reference *r, const char *column) {
    double value = 0.0;
    const char *cell = reference_word(r, column);
    if (!number_of(&value, cell)) {
        fail_msg("%s.csv, row %zu, column %s: '%s' is no number", r->name, r->next, column, cell);
    }
    return value;
}

int reference_count(struct reference *r, const char *column) {
    double value = reference_number(r, column);
    if (fabs(value) > 1e6 || value != floor(value)) {
        fail_msg("%s.csv, row %zu, column %s: no whole number", r->name, r->next, column);
    }
    return (int)value;
}

bool reference_agrees(struct reference *r, const char *column, double actual, double tolerance) {
    double wanted = 0.0;
    if (!number_of(&wanted, cell_of(r, column))) {
        return false;
    }
    r->used[r->next - 1][column_of(r, column)] = true;
    r->checked[r->next - 1] = true;
    return fabs(actual - wanted) <= tolerance + 1e-9 * fabs(tolerance) + 1e-14 * fabs(wanted);
}

void reference_check(struct reference *r, const char *column, double actual, double tolerance) {
    if (!reference_agrees(r, column, actual, tolerance)) {
        const char *cell = cell_of(r, column);
        fail_msg("%s.csv, row %zu, %s: %.9g is not %s within %g", r->name, r->next, column, actual,
                 cell != NULL ? cell : "(no such column)", tolerance);
    }
}

void reference_claim(struct reference *r, bool holds, const char *what) {
    if (r->next == 0 || !holds) {
        fail_msg("%s.csv, row %zu: not so: %s", r->name, r->next, what);
    }
    r->checked[r->next - 1] = true;
}

bool reference_fault(const struct reference *r, size_t rows, char fault[REFERENCE_FAULT_MAX]) {
    if (r->n_rows != rows) {
        snprintf(fault, REFERENCE_FAULT_MAX, "%s.csv has %zu rows, the test expects %zu", r->name, r->n_rows, rows);
        return true;
    }
    for (size_t row = 0; row < r->n_rows; row++) {
        if (!r->checked[row]) {
            snprintf(fault, REFERENCE_FAULT_MAX, "%s.csv, row %zu: nothing was checked", r->name, row + 1);
            return true;
        }
        for (size_t i = 0; i < r->n_columns; i++) {
            if (!r->used[row][i] && r->cells[row][i][0] != '\0' && !for_people(r->columns[i])) {
                snprintf(fault, REFERENCE_FAULT_MAX, "%s.csv, row %zu: %s was not used", r->name, row + 1,
                         r->columns[i]);
                return true;
            }
        }
    }
    return false;
}

void reference_close(struct reference *r, size_t rows) {
    char fault[REFERENCE_FAULT_MAX];
    bool faulty = reference_fault(r, rows, fault);
    reference_free(r);
    if (faulty) {
        fail_msg("%s", fault);
    }
}
