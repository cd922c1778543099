/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Days of the Gregorian calendar, counted from 1970-01-01, as ISO 8601 writes them: 2026-05-01. Years 0001 to 9999.
 */
#ifndef BASE_DATE_H
#define BASE_DATE_H

#include "base/status.h"
#include "base/text.h"

#include <stdint.h>

#define BASE_DATE_CHARS 10
#define BASE_DATE_LAST 2932896 /* 9999-12-31 */

/* Takes a date off the front of the text. False when none stands there, or no such day exists: out is untouched then, and what
 * is left of the text means nothing. */
bool base_date_take(int32_t *days, struct base_slice *text) BASE_CHECKED;
/* The whole text as a date; the same otherwise. */
bool base_date_read(int32_t *days, struct base_slice text) BASE_CHECKED;
/* A day as text. days: from 0001-01-01 (-719162) to BASE_DATE_LAST. */
void base_date_write(struct base_buffer *out, int32_t days);

#endif
