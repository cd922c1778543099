/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Reading what a request names: bike, wish, shop and catalogue, with every fault told.
 */
#ifndef APP_LOAD_H
#define APP_LOAD_H

#include "app/commands.h"
#include "app/copies.h"
#include "app/road.h"
#include "format/catalogue_in.h"
#include "format/use_in.h"
#include "plan/plan.h"
#include "trade/bike.h"
#include "trade/names.h"
#include "trade/shop.h"
#include "trade/wish.h"

struct app_loaded {
    struct trade_names names;
    struct base_faults faults;
    struct trade_bike bike;
    struct trade_wish wish;
    struct trade_shop shop;
    struct trade_catalogue catalogue;
    struct plan_shelf *shelf; /* of the catalogue; NULL before it is read */
    struct base_arena arena;  /* owns what way and road hold */
    struct app_way way;       /* route and climbs NULL: the request names none */
    struct app_road road;     /* of the bike on that way; speeds NULL before it is ridden */
    bool has_bike, has_catalogue;
    struct app_copies *copies;         /* of the files that a new job takes along; NULL: none is made */
    struct base_buffer trouble;        /* the file at which the machine failed; empty when it did not */
    const struct app_world *world;     /* borrowed */
    const struct app_request *request; /* borrowed */
};

/* Nothing read yet; world and request are borrowed. Clear it whatever was read. */
void app_load_init(struct app_loaded *out, const struct app_world *world, const struct app_request *request);
/* Frees all that was read. */
void app_load_clear(struct app_loaded *loaded);

/* Begins the request's case folder, when there is one, by what was asked. Files of another case would be taken for this
 * one's, so BASE_BAD_INPUT where the folder holds anything; BASE_SYSTEM, BASE_NO_MEMORY. Before anything is read. */
enum base_status app_load_begin_case(struct app_loaded *loaded) BASE_CHECKED;

/* Each reads what the request names into `loaded`, and copies it into the request's case folder when there is one.
 * BASE_BAD_INPUT with faults told; BASE_SYSTEM, BASE_NO_MEMORY. */
/* With the rider: the bike's, or that of the request's own file. */
enum base_status app_load_bike(struct app_loaded *loaded) BASE_CHECKED;
enum base_status app_load_wish(struct app_loaded *loaded) BASE_CHECKED;
enum base_status app_load_gear_use(struct app_loaded *loaded, struct format_use *out) BASE_CHECKED;
enum base_status app_load_catalogue(struct app_loaded *loaded, const char *folder) BASE_CHECKED;

/* Is there anything in the folder? */
bool app_load_is_taken(const struct app_loaded *loaded, const char *folder);
/* A fault of a file, or of a folder, as a whole; BASE_BAD_INPUT. */
enum base_status app_load_tell(struct app_loaded *loaded, const char *path, const char *found,
                               const char *allowed) BASE_CHECKED;

/* The route that the request names, piece by piece, or the climbs that it states; nothing where it does neither. */
enum base_status app_load_way(struct app_loaded *loaded) BASE_CHECKED;

/* Rides the way, where there is one, without gears; a wish that names no objectives is then about the ride, too. Bike and
 * wish must have been read. BASE_BAD_INPUT: the route has no heights, or the wish is about a ride and there is no way. */
enum base_status app_load_road(struct app_loaded *loaded) BASE_CHECKED;

/* The same for one of many bikes on the way that was loaded; faults name the wish by `file`. Whatever comes of it, out is to be
 * cleared by app_road_clear. */
enum base_status app_take_road(struct app_road *out, struct trade_wish *wish, struct base_arena *arena,
                               const struct trade_bike *bike, const struct app_way *way, const char *file,
                               struct base_faults *faults) BASE_CHECKED;

/* A bike from its document, as format_bike_read, with every rule that may be overruled. app_complete_rider is still to be
 * called. */
enum base_status app_parse_bike(struct trade_bike *out, struct base_slice bytes, const char *path,
                                struct trade_names *names, struct base_faults *faults) BASE_CHECKED;

/* Fills in what nobody said of the rider (trade_bike_complete_rider). A timed climb that took more or less than any rider holds
 * was written down wrongly: BASE_BAD_INPUT, with a fault told at this path of this file. */
enum base_status app_complete_rider(struct trade_bike *bike, const char *file, const char *path,
                                    struct base_faults *faults) BASE_CHECKED;

/* A file's bytes, into a buffer that the caller has set up, and a copy under case_name into the request's case folder when
 * there is one. Errors as above. */
enum base_status app_load_file(struct app_loaded *loaded, struct base_buffer *out, const char *path,
                               const char *case_name) BASE_CHECKED;

/* Keeps the answer in the request's case folder when there is one, and the answer is JSON. Sets the reply's exit status
 * where that fails. */
void app_load_keep_answer(struct app_reply *reply, struct app_loaded *loaded);

/* Writes what went wrong to the reply and sets its exit status; true when something did. */
bool app_load_failed(struct app_reply *reply, const struct app_loaded *loaded, enum base_status status);

/* What is asked of the catalogue that was read, with the request's limit of memory; borrows all. */
struct plan_question app_question_of(const struct app_loaded *loaded, const struct trade_bike *bike,
                                     const struct trade_wish *wish, const struct app_road *road);

/* What a buffer holds; good until it changes. */
struct base_slice app_bytes_of(const struct base_buffer *buffer);

#endif
