/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Tables of published check values, for tests only: reads tests/reference/<name>.csv and sees to it that every row and
 * every figure in it was really used.
 *
 * One idea: a table is walked row by row; reading or checking a cell marks it. At the end no cell may be left unmarked
 * (but for `mark`, `source` and `note`, which are for people), every row must have been checked at least once, and there
 * must be as many rows as the test says. So a row can be neither skipped nor lost.
 *
 * Form: RFC 4180, UTF-8, a header; columns `mark` (printed, derived, common practice, from memory) and `source` in every
 * table and filled in every row. A test fails, by cmocka, on anything else.
 */
#ifndef SUPPORT_REFERENCE_H
#define SUPPORT_REFERENCE_H

#include <stdbool.h>
#include <stddef.h>

struct reference;

/* The table of that name under $CW_SOURCE_ROOT/tests/reference, before its first row. The test fails if it can't be
 * read. Freed by reference_close. */
struct reference *reference_open(const char *name);

/* Goes to the next row; false after the last. */
bool reference_next(struct reference *r);

/* Goes back to before the first row, for a second walk; marks stay. */
void reference_rewind(struct reference *r);

/* Whether the cell holds anything; does not mark it. */
bool reference_has(const struct reference *r, const char *column);

/* The cell as text, as a number, as a whole number; marks it. The text lives until reference_close. The test fails on a
 * missing column, an empty cell or a broken number. */
const char *reference_word(struct reference *r, const char *column);
double reference_number(struct reference *r, const char *column);
int reference_count(struct reference *r, const char *column);

/* Fails the test unless |actual - cell| <= tolerance (and a billionth of it, for a cell that was rounded exactly half
 * way); marks the cell and the row as checked. */
void reference_check(struct reference *r, const char *column, double actual, double tolerance);

/* Fails the test, naming the row, unless holds; marks the row as checked. what: the claim, in words. */
void reference_claim(struct reference *r, bool holds, const char *what);

/* Frees the table. Fails the test unless it has exactly `rows` rows and all of them were used as said above. */
void reference_close(struct reference *r, size_t rows);

/* The parts that the above are made of, without cmocka, so that they can be shown faults themselves. */

#define REFERENCE_FAULT_MAX 256

/* A table from text; NULL, and the reason in fault, when it is not one. Freed by reference_free. */
struct reference *reference_parse(const char *name, const char *text, size_t n, char fault[REFERENCE_FAULT_MAX]);
void reference_free(struct reference *r);

/* Whether actual is near enough to the cell; marks like reference_check. */
bool reference_agrees(struct reference *r, const char *column, double actual, double tolerance);

/* What reference_close would complain of; false when there is nothing. */
bool reference_fault(const struct reference *r, size_t rows, char fault[REFERENCE_FAULT_MAX]);

#endif
