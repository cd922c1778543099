/* SPDX-License-Identifier: Apache-2.0 */
/*
 * GPX 1.0 and 1.1 (topografix.com/GPX/1/0 and /1/1): tracks, or planned routes where a file has no track.
 *
 * One idea: a file may be of hundreds of megabytes, so it is fed in pieces as they come and never held. Of each point
 * only position, height and time are read; they go on to a ride_route at once. Extensions, waypoints and what else there
 * is are passed over. Heights are taken as metres, as GPX has them.
 *
 * Entities are refused where they are declared, so that none can be expanded; nothing outside the file is fetched.
 */
#ifndef FORMAT_GPX_IN_H
#define FORMAT_GPX_IN_H

#include "base/fault.h"
#include "ride/route.h"

#define FORMAT_GPX_MIB 200 /* of a file, at most */

struct format_gpx;

/* A reader of this file into `route`, which it sets up; arena owns the points. All but out are borrowed until
 * format_gpx_free. BASE_NO_MEMORY. */
enum base_status format_gpx_new(struct format_gpx **out, struct ride_route *route, struct base_arena *arena,
                                const char *file, struct base_faults *faults) BASE_CHECKED;
void format_gpx_free(struct format_gpx *gpx);

/* The next bytes of the file, in pieces of any size (below 1 GiB). BASE_BAD_INPUT when there is no use in going on: a
 * fault says why. BASE_NO_MEMORY. */
enum base_status format_gpx_feed(struct format_gpx *gpx, struct base_slice bytes) BASE_CHECKED;

/* After the last of them. BASE_BAD_INPUT with a fault told: the file is cut off, some point could not be read, or what
 * was read is no route: fewer than two places, or no heights. BASE_NO_MEMORY. */
enum base_status format_gpx_end(struct format_gpx *gpx) BASE_CHECKED;

/* Whether the points came from a recorded track (and not from a planned route). */
bool format_gpx_is_track(const struct format_gpx *gpx);

#endif
