/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Pages while memory runs out: the page says so in its status, or it is the very page.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "app/climb.h"
#include "app/commands.h"
#include "app/geometry.h"
#include "app/load.h"
#include "app/quote.h"
#include "app/ride.h"
#include "app/torque.h"
#include "app/wear.h"
#include "app/work.h"
#include "support/failing.h"

#include <dirent.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct app_style utf8 = {.colour = false};

/* --- the demo bike and its plan, once -------------------------------------------------------------------------------- */

static enum base_status read_file(void *self, struct base_buffer *out, const char *path) {
    char bytes[4096];
    size_t n;
    FILE *file = fopen(path, "rb");
    (void)self;
    if (!file) {
        return BASE_BAD_INPUT;
    }
    while ((n = fread(bytes, 1, sizeof bytes, file)) > 0) {
        base_buffer_put(out, bytes, n);
    }
    fclose(file);
    return out->status;
}

static int compare_names(const void *a, const void *b) {
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static enum base_status list_folder(void *self, struct base_buffer *out, const char *folder) {
    char names[64][64], *sorted[64];
    size_t n = 0;
    DIR *open = opendir(folder);
    (void)self;
    for (struct dirent *entry = open ? readdir(open) : NULL; entry && n < 64; entry = readdir(open)) {
        if (entry->d_name[0] != '.' && strlen(entry->d_name) < sizeof names[0]) {
            sorted[n] = names[n];
            strcpy(names[n++], entry->d_name);
        }
    }
    if (open) {
        closedir(open);
    }
    qsort(sorted, n, sizeof sorted[0], compare_names);
    for (size_t i = 0; i < n; i++) {
        base_buffer_text(out, sorted[i]);
        base_buffer_char(out, '\n');
    }
    return out->status;
}

static char bike_path[512], wish_path[512], shop_path[512];
static struct app_world world = {.read = read_file, .list = list_folder};
static struct app_request request = {.bike = bike_path, .wish = wish_path, .catalogue = shop_path};
static struct app_loaded loaded;
static struct plan *plan;

static int load(void **state) {
    (void)state;
    const char *root = getenv("CW_SOURCE_ROOT");
    if (!root || strlen(root) > 400) {
        return -1;
    }
    strcat(strcpy(bike_path, root), "/data/demo/bikes/quillmoor-trail.json");
    strcat(strcpy(wish_path, root), "/data/demo/wishes/quillmoor-trail.json");
    strcat(strcpy(shop_path, root), "/data/demo/shop");
    app_load_init(&loaded, &world, &request);
    if (app_load_bike(&loaded) != BASE_OK || app_load_wish(&loaded) != BASE_OK ||
        app_load_catalogue(&loaded, shop_path) != BASE_OK) {
        return -1;
    }
    const struct plan_question question = {
        .bike = &loaded.bike, .wish = &loaded.wish, .shop = &loaded.shop, .catalogue = &loaded.catalogue};
    return plan_new(&plan, &question) == BASE_OK ? 0 : -1;
}

static int unload(void **state) {
    (void)state;
    plan_free(plan);
    app_load_clear(&loaded);
    return 0;
}

/* --- pages --------------------------------------------------------------------------------------------------------- */

typedef void write_page(struct base_buffer *out);

static void write_plan(struct base_buffer *out) {
    struct base_arena scratch;
    struct app_plan_shown shown = {.plan = plan, .shop_label = "demo shop", .why = true};
    base_arena_init(&scratch, 0);
    app_text_plan(out, &utf8, &shown, &scratch);
    base_arena_clear(&scratch);
}

static void write_rule(struct base_buffer *out) {
    assert_true(app_text_explain(out, &utf8, base_slice_of("stay-clearance")));
    assert_true(app_text_explain(out, &utf8, base_slice_of("hub_width_mm")));
}

static void write_parts(struct base_buffer *out) {
    app_text_parts(out, &utf8, &loaded.catalogue, &loaded.shop, TRADE_KIND_CHAIN_GUIDE);
}

static void write_fit(struct base_buffer *out) {
    static struct fit_finding findings[128];
    size_t n = 0;
    assert_true(fit_rules_n <= 128);
    fit_judge_build(findings, &n, &loaded.bike, &plan->now, &plan->cases, true);
    app_text_fit(out, &utf8, &loaded.bike, findings, n);
}

static void write_climb(struct base_buffer *out) {
    struct app_climb climb;
    struct base_arena arena;
    base_arena_init(&arena, 0);
    enum base_status status = app_climb_of(&climb, &arena, &loaded.bike, &plan->now, 9.5, (double)NAN);
    if (status == BASE_OK) {
        app_text_climb(out, &utf8, &loaded.bike, &climb);
    } else {
        out->status = status;
    }
    base_arena_clear(&arena);
}

/* Five kilometres over a hill, with all that a track can have wrong. */
static enum base_status make_route(struct ride_route *route, struct base_arena *arena) {
    enum base_status status = BASE_OK;
    ride_route_init(route, arena, true);
    for (int i = 0; i < 500 && status == BASE_OK; i++) {
        double jump = i == 100 ? 1.0 : i > 450 ? 0.1 : 0.0;
        struct ride_fix fix = {{45.0 + i * 9e-5 + jump, 7.0}, 300.0 + 80.0 * sin(i / 50.0), (double)(i == 30 ? 0 : i)};
        fix.height_m = i == 60 ? 1e5 : i > 200 && i < 220 ? (double)NAN : fix.height_m;
        status = ride_route_add(route, &fix);
    }
    return status == BASE_OK ? ride_route_end(route) : status;
}

static void write_ride(struct base_buffer *out) {
    struct base_arena arena;
    struct ride_route route;
    base_arena_init(&arena, 0);
    enum base_status status = make_route(&route, &arena);
    struct app_ride *ride = status == BASE_OK ? base_arena_alloc(&arena, 1, sizeof *ride) : NULL;
    struct app_road road = {0};
    const struct app_way way = {.route = &route, .file = "a/track.gpx", .is_track = true};
    status = ride ? app_road_of(&road, &arena, &loaded.bike, &way) : BASE_NO_MEMORY;
    if (status == BASE_OK) {
        status = app_ride_of(ride, &arena, &loaded.bike, &way, &road, plan);
    }
    if (status == BASE_OK) {
        app_text_ride(out, &utf8, &loaded.bike, ride);
        app_json_ride(out, ride);
    } else {
        out->status = status;
    }
    app_road_clear(&road);
    base_arena_clear(&arena);
}

/* With the class of the chain known, and open. */
static void write_wear(struct base_buffer *out) {
    static struct app_wear wear;
    app_wear_of(&wear, &loaded.bike, &plan->now, &plan->cases, true);
    app_text_wear(out, &utf8, &loaded.bike, &wear);
    wear.family = -1;
    app_text_wear(out, &utf8, &loaded.bike, &wear);
    app_json_wear(out, &wear);
}

static struct app_work work;

/* The sheet of a pick that opens the crank, and of a plan without a way. */
static void write_work(struct base_buffer *out) {
    app_text_work(out, &utf8, &work);
    app_json_work(out, &work);
    app_text_no_work(out, &utf8, plan);
    app_json_no_work(out, plan);
}

static void write_torques(struct base_buffer *out) {
    struct app_torque torques[2] = {app_torque_of(&trade_torques[TRADE_TORQUE_PINCH_BOLTS], 10),
                                    app_torque_of(&trade_torques[TRADE_TORQUE_PEDAL_LEFT], (double)NAN)};
    app_text_torque(out, &utf8, &torques[0]);
    app_text_torques(out, &utf8, torques, 2);
    app_json_torques(out, torques, 2);
}

/* A suspension, an idler and a new gear. The arena's own blocks fail too: the page is then cut off, and says so. */
static void write_suspension(struct base_buffer *out) {
    static const struct format_suspension given = {
        .suspension = {.kind = MECH_SUSPENSION_PIVOT, .axle = {-434, -18}, .pivot = {-20, 130}},
        .drive = {.ring = 32,
                  .sprocket = 24,
                  .idler_teeth = 16,
                  .idler = {-25, 115},
                  .wheel_radius_mm = 365,
                  .wheelbase_mm = 1200,
                  .mass_height_mm = 1100},
        .new_ring = 30,
        .new_sprocket = 21,
        .sag_mm = 40,
        .travel_mm = {0, 140},
        .n = 2};
    struct app_suspension suspension;
    struct base_arena arena;
    base_arena_init(&arena, 0);
    enum base_status status = app_suspension_of(&suspension, &arena, &given);
    if (status == BASE_OK) {
        app_text_suspension(out, &utf8, &suspension);
        app_json_suspension(out, &suspension);
    } else {
        out->status = status;
    }
    base_arena_clear(&arena);
}

/* Fails the n-th allocation for the first n, then for n that grow by a thirtieth, until none fails any more. */
static void holds_while_memory_runs_out(write_page *page) {
    struct base_buffer whole;
    bool failed = true;
    base_buffer_init(&whole, 0);
    page(&whole);
    assert_int_equal(whole.status, BASE_OK);
    for (long n = 0; failed; n += 1 + n / 32) {
        struct base_buffer out;
        base_buffer_init(&out, 0);
        support_fail_after(n);
        page(&out);
        failed = support_failed();
        support_fail_after(-1);
        if (failed && out.status == BASE_OK) {
            fail_msg("allocation %ld failed, and the page does not say so", n);
        }
        if (!failed) {
            assert_string_equal(out.at, whole.at);
        }
        base_buffer_clear(&out);
    }
    base_buffer_clear(&whole);
}

static void a_plan_holds(void **state) {
    (void)state;
    holds_while_memory_runs_out(write_plan);
}

static void an_explanation_holds(void **state) {
    (void)state;
    holds_while_memory_runs_out(write_rule);
}

static void a_list_of_parts_holds(void **state) {
    (void)state;
    holds_while_memory_runs_out(write_parts);
}

static void joints_hold(void **state) {
    (void)state;
    holds_while_memory_runs_out(write_fit);
}

static void a_climb_holds(void **state) {
    (void)state;
    holds_while_memory_runs_out(write_climb);
}

static void a_ride_holds(void **state) {
    (void)state;
    holds_while_memory_runs_out(write_ride);
}

static void wear_holds(void **state) {
    (void)state;
    holds_while_memory_runs_out(write_wear);
}

static void torques_hold(void **state) {
    (void)state;
    holds_while_memory_runs_out(write_torques);
}

static void a_bench_sheet_holds(void **state) {
    (void)state;
    assert_int_equal(app_work_of(&work, plan, &plan->ways[plan->picks[2]], "C"), BASE_OK);
    work.shop_label = "demo shop";
    holds_while_memory_runs_out(write_work);
}

static struct app_plan_shown quoted;
static struct app_quote quote;

static void write_quote(struct base_buffer *out) {
    app_text_quote(out, &utf8, &quote);
    app_json_quote(out, &quote);
}

static void a_quote_holds(void **state) {
    (void)state;
    quoted = (struct app_plan_shown){.plan = plan};
    assert_int_equal(app_quote_of(&quote, &quoted, "A,C", 5000), BASE_OK);
    holds_while_memory_runs_out(write_quote);
}

static void a_suspension_holds(void **state) {
    (void)state;
    holds_while_memory_runs_out(write_suspension);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_plan_holds),
        cmocka_unit_test(an_explanation_holds),
        cmocka_unit_test(a_list_of_parts_holds),
        cmocka_unit_test(joints_hold),
        cmocka_unit_test(a_climb_holds),
        cmocka_unit_test(a_ride_holds),
        cmocka_unit_test(wear_holds),
        cmocka_unit_test(torques_hold),
        cmocka_unit_test(a_bench_sheet_holds),
        cmocka_unit_test(a_quote_holds),
        cmocka_unit_test(a_suspension_holds),
    };
    return cmocka_run_group_tests(tests, load, unload);
}
