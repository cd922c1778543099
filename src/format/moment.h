/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A date with a time of day, as XML Schema and ISO 8601 write it.
 */
#ifndef FORMAT_MOMENT_H
#define FORMAT_MOMENT_H

#include "base/text.h"

/* Seconds since 1970-01-01T00:00:00Z of a moment such as 2026-05-01T09:30:00Z, 2026-05-01T11:30:00.25+02:00; without a
 * zone it is taken as UTC. Gregorian calendar, years 0001 to 9999, no leap seconds (second 60 counts as the next
 * minute's first). False for anything else; out is untouched then. Source: XML Schema part 2, dateTime. */
bool format_moment_read(double *out, struct base_slice text) BASE_CHECKED;

#endif
