/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Reading what a request names: bike, wish, shop and catalogue, with every fault told.
 */
#ifndef APP_LOAD_H
#define APP_LOAD_H

#include "app/commands.h"
#include "format/catalogue_in.h"
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
    bool has_bike, has_catalogue;
    const struct app_world *world;     /* borrowed */
    const struct app_request *request; /* borrowed */
};

/* Nothing read yet; world and request are borrowed. Clear it whatever was read. */
void app_load_init(struct app_loaded *out, const struct app_world *world, const struct app_request *request);
/* Frees all that was read. */
void app_load_clear(struct app_loaded *loaded);

/* Each reads what the request names into `loaded`, and copies it into the request's case folder when there is one.
 * BASE_BAD_INPUT with faults told; BASE_SYSTEM, BASE_NO_MEMORY. */
enum base_status app_load_bike(struct app_loaded *loaded) BASE_CHECKED;
enum base_status app_load_wish(struct app_loaded *loaded) BASE_CHECKED;
enum base_status app_load_catalogue(struct app_loaded *loaded, const char *folder) BASE_CHECKED;

/* A bike from a file of another name than the request's, such as one of a folder of them. */
enum base_status app_load_bike_file(struct app_loaded *loaded, const char *path) BASE_CHECKED;

/* Writes what went wrong to the reply and sets its exit status; true when something did. */
bool app_load_failed(struct app_reply *reply, const struct app_loaded *loaded, enum base_status status);

#endif
