/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Unknown is not zero: every property of every demo bike is left out, one at a time, and every question is asked again.
 *
 * No answer may break, none may hold a 0 where the whole bike had another value or nothing, a value that is lost must be
 * waited for, and one that comes where there was none may only be assumed. The shop is every thirtieth part of the
 * demo's, so that hundreds of plans take seconds.
 */
#include "app/commands.h"

#include <dirent.h>
#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define EVERY_PART 30
#define PLAN_EVERY 4 /* a plan after every fourth property: bikes state most of them, so that each has its turn */
#define PROPERTIES_MOST 400

/* --- a world in memory --------------------------------------------------------------------------------------------- */

struct file {
    char name[64];
    struct base_buffer bytes;
};
static struct file shop[32];
static size_t n_shop;
static char *bike_bytes; /* what "bike" reads as */

static enum base_status world_read(void *self, struct base_buffer *out, const char *path) {
    (void)self;
    if (strcmp(path, "bike") == 0) {
        base_buffer_text(out, bike_bytes);
        return out->status;
    }
    if (strcmp(path, "wish") == 0) {
        base_buffer_text(out, "{\"rings\": 1, \"lowest_m_max\": 4}"); /* one that hardly a plan fails */
        return out->status;
    }
    for (size_t i = 0; i < n_shop; i++) {
        if (strcmp(path + strlen("shop/"), shop[i].name) == 0) {
            base_buffer_put(out, shop[i].bytes.at, shop[i].bytes.n);
            return out->status;
        }
    }
    return BASE_BAD_INPUT;
}

static enum base_status world_list(void *self, struct base_buffer *out, const char *folder) {
    (void)self;
    (void)folder;
    for (size_t i = 0; i < n_shop; i++) {
        base_buffer_text(out, shop[i].name);
        base_buffer_char(out, '\n');
    }
    return out->status;
}

static enum base_status world_write(void *self, const char *path, struct base_slice bytes) {
    (void)self;
    (void)bytes;
    fail_msg("nothing is to be written, and yet: %s", path);
    return BASE_SYSTEM;
}

static const struct app_world world = {.read = world_read, .list = world_list, .write = world_write};

static void path_of(char *out, size_t n, const char *folder, const char *name) {
    const char *root = getenv("CW_SOURCE_ROOT");
    assert_non_null(root);
    assert_true((size_t)snprintf(out, n, "%s/data/demo/%s/%s", root, folder, name) < n);
}

static bool ends(const char *name, const char *with) {
    return strlen(name) > strlen(with) && strcmp(name + strlen(name) - strlen(with), with) == 0;
}

/* shop.json whole; of a table the header, the first row, and every so-manieth. */
static void load_file(const char *name) {
    char path[4096], line[4096];
    struct file *file = &shop[n_shop++];
    assert_true(n_shop <= sizeof shop / sizeof shop[0]);
    path_of(path, sizeof path, "shop", name);
    FILE *stream = fopen(path, "r");
    assert_non_null(stream);
    assert_true((size_t)snprintf(file->name, sizeof file->name, "%s", name) < sizeof file->name);
    base_buffer_init(&file->bytes, 0);
    for (size_t row = 0; fgets(line, sizeof line, stream); row++) {
        if (ends(name, ".json") || row % EVERY_PART == 0 || row == 1) {
            base_buffer_text(&file->bytes, line);
        }
    }
    fclose(stream);
    assert_int_equal(file->bytes.status, BASE_OK);
}

static int load_shop(void **state) {
    (void)state;
    char path[4096];
    path_of(path, sizeof path, "shop", "");
    DIR *folder = opendir(path);
    assert_non_null(folder);
    for (struct dirent *entry; (entry = readdir(folder)) != NULL;) {
        if (ends(entry->d_name, ".csv") || ends(entry->d_name, ".json")) {
            load_file(entry->d_name);
        }
    }
    closedir(folder);
    return n_shop > 10 ? 0 : -1;
}

static int clear_shop(void **state) {
    (void)state;
    while (n_shop > 0) {
        base_buffer_clear(&shop[--n_shop].bytes);
    }
    return 0;
}

/* --- asking -------------------------------------------------------------------------------------------------------- */

typedef void command(struct app_reply *reply, const struct app_world *of, const struct app_request *request);
static const struct {
    const char *name;
    command *ask;
} commands[] = {{"gears", app_gears}, {"line", app_line}, {"chain", app_chain},
                {"shift", app_shift}, {"fit", app_fit},   {"plan", app_plan}};
#define COMMANDS (sizeof commands / sizeof commands[0])

static bool is_plan(size_t which) { return commands[which].ask == app_plan; }

/* The answer of one command about the bike in `document`; left_out is for messages. */
static json_t *ask(size_t which, json_t *document, const char *left_out) {
    struct app_request request = {
        .command = commands[which].name, .bike = "bike", .json = true, .ways = 5, .why = true};
    struct app_reply reply;
    json_error_t error;
    request.catalogue = is_plan(which) ? "shop" : NULL;
    request.wish = is_plan(which) ? "wish" : NULL;
    bike_bytes = json_dumps(document, 0);
    assert_non_null(bike_bytes);
    app_reply_init(&reply);
    commands[which].ask(&reply, &world, &request);
    free(bike_bytes);
    if (reply.err.n > 0 || (reply.status != APP_DONE && reply.status != APP_NO)) {
        fail_msg("%s without %s: exit status %d, %.200s", commands[which].name, left_out, (int)reply.status,
                 reply.err.n > 0 ? reply.err.at : "");
    }
    json_t *answer = json_loadb(reply.out.at, reply.out.n, JSON_REJECT_DUPLICATES, &error);
    if (!answer) {
        fail_msg("%s without %s: no JSON: %s", commands[which].name, left_out, error.text);
    }
    app_reply_clear(&reply);
    return answer;
}

/* --- comparing ----------------------------------------------------------------------------------------------------- */

static bool is_zero(const json_t *value) {
    return json_is_number(value) && !(json_number_value(value) > 0) && !(json_number_value(value) < 0);
}

/* Keys whose 0 says that all is well, or that there are none; any other 0 would be a value that nobody knows. */
static bool may_be_zero(const char *key) {
    static const char *const keys[] = {"error_mm",  "line_error_mm", "error_mm_total", "offset_mm",
                                       "angle_deg", "repeated",      "slack_links",    "rest_slack_links",
                                       "tension_n", "growth_links",  "longest_at_mm",  "equals",
                                       "changed",   "cost",          "price",          "labour",
                                       "mass_g",    "bench_min",     "front_size"};
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        if (strcmp(key, keys[i]) == 0) {
            return true;
        }
    }
    return false;
}

struct compared {
    size_t lost, won; /* keys whose value went, or came */
};

/* What is wrong with a key's value now, against the whole bike's; NULL when nothing. */
static const char *wrong_with(const char *key, const json_t *before, const json_t *after) {
    if (!after) {
        return strcmp(key, "because") == 0 ? NULL : "is not told";
    }
    if (json_is_null(before) && is_zero(after)) {
        return "was open and is 0";
    }
    return is_zero(after) && !is_zero(before) && !may_be_zero(key) ? "is 0" : NULL;
}

static struct compared compare(const json_t *whole, const json_t *now, const char *command_name, const char *left_out) {
    struct compared c = {0, 0};
    const char *key;
    json_t *before;
    json_object_foreach((json_t *)whole, key, before) {
        const json_t *after = json_object_get(now, key);
        const char *wrong = wrong_with(key, before, after);
        if (wrong) {
            fail_msg("%s without %s: %s %s", command_name, left_out, key, wrong);
        }
        c.lost += !json_is_null(before) && json_is_null(after);
        c.won += json_is_null(before) && json_is_number(after);
    }
    return c;
}

/* Gears and angles hold no zero but an offset. */
static void check_rows(const json_t *rows, const char *command_name, const char *left_out) {
    size_t i;
    json_t *row, *value;
    const char *key;
    json_array_foreach((json_t *)rows, i, row) {
        json_object_foreach(row, key, value) {
            if (is_zero(value) && !may_be_zero(key)) {
                fail_msg("%s without %s: %s of a row is 0", command_name, left_out, key);
            }
        }
    }
}

static void check(size_t which, const json_t *whole, const json_t *now, const char *left_out) {
    const char *name = commands[which].name;
    struct compared c = compare(whole, now, name, left_out);
    check_rows(json_object_get(now, "gears"), name, left_out);
    check_rows(json_object_get(now, "angles"), name, left_out);
    const json_t *open = json_object_get(now, "open");
    const char *known = json_string_value(json_object_get(now, "known"));
    if (!open || is_plan(which)) {
        return; /* of fit, each joint says for itself what it asks for */
    }
    if (c.lost > 0 && json_array_size(open) == 0) {
        fail_msg("%s without %s: values are gone and nothing is waited for", name, left_out);
    }
    if (c.won > 0 && known && strcmp(known, "assumed") != 0 && strcmp(known, "open") != 0) {
        fail_msg("%s without %s: a value came that is not assumed but %s", name, left_out, known);
    }
}

/* The comparison is shown what it is there for. */
static void faults_are_seen(void **state) {
    (void)state;
    json_t *null = json_null(), *zero = json_integer(0), *two = json_real(2);
    assert_string_equal(wrong_with("links", null, zero), "was open and is 0");
    assert_string_equal(wrong_with("error_mm", null, zero), "was open and is 0");
    assert_string_equal(wrong_with("links", two, zero), "is 0");
    assert_string_equal(wrong_with("links", two, NULL), "is not told");
    assert_null(wrong_with("links", two, null));
    assert_null(wrong_with("error_mm", two, zero));
    assert_null(wrong_with("repeated", zero, zero));
    json_decref(zero);
    json_decref(two);
}

/* --- leaving out --------------------------------------------------------------------------------------------------- */

struct property {
    json_t *holder; /* borrowed */
    char key[64];
    char path[160];
};

static void add(struct property *list, size_t *n, json_t *holder, const char *at) {
    const char *key;
    json_t *value;
    json_object_foreach(holder, key, value) {
        struct property *p = &list[(*n)++];
        assert_true(*n < PROPERTIES_MOST);
        p->holder = holder;
        assert_true((size_t)snprintf(p->key, sizeof p->key, "%s", key) < sizeof p->key);
        assert_true((size_t)snprintf(p->path, sizeof p->path, "%s/%s", at, key) < sizeof p->path);
    }
}

/* Every property that the bike's file states, and every slot. */
static size_t properties_of(struct property *list, json_t *bike) {
    static const char *const fixed[] = {"frame", "wheel", "rider", "fitted"};
    size_t n = 0, i;
    char at[96];
    const char *slot;
    json_t *part, *ring, *fitted = json_object_get(bike, "fitted");
    for (i = 0; i < sizeof fixed / sizeof fixed[0]; i++) {
        assert_true((size_t)snprintf(at, sizeof at, "/%s", fixed[i]) < sizeof at);
        add(list, &n, json_object_get(bike, fixed[i]), at);
    }
    json_object_foreach(fitted, slot, part) {
        assert_true((size_t)snprintf(at, sizeof at, "/fitted/%s", slot) < sizeof at);
        if (json_is_object(part)) {
            add(list, &n, part, at);
        }
        json_array_foreach(part, i, ring) { add(list, &n, ring, at); }
    }
    list[n++] = (struct property){.holder = bike, .key = "use", .path = "/use"};
    return n;
}

/* Rings stand by their places, or all of them by falling teeth: the place of one alone can't be left out. */
static bool is_allowed(const struct property *p) { return strcmp(p->path, "/fitted/rings/place") != 0; }

static void ask_all(json_t *bike, json_t *const *whole, const char *left_out, bool plans) {
    for (size_t c = 0; c < COMMANDS; c++) {
        if (is_plan(c) && !plans) {
            continue;
        }
        json_t *now = ask(c, bike, left_out);
        check(c, whole[c], now, left_out);
        json_decref(now);
    }
}

static void leave_out(void **state) {
    static struct property list[PROPERTIES_MOST];
    static size_t turn;
    char path[4096];
    json_error_t error;
    json_t *whole[COMMANDS];
    path_of(path, sizeof path, "bikes", *state);
    json_t *bike = json_load_file(path, JSON_REJECT_DUPLICATES, &error);
    assert_non_null(bike);
    for (size_t c = 0; c < COMMANDS; c++) {
        whole[c] = ask(c, bike, "nothing");
    }
    size_t n = properties_of(list, bike);
    assert_true(n > 80);
    for (size_t i = 0; i < n; i++) {
        json_t *value = json_incref(json_object_get(list[i].holder, list[i].key));
        if (value && is_allowed(&list[i])) {
            assert_int_equal(json_object_del(list[i].holder, list[i].key), 0);
            ask_all(bike, whole, list[i].path, turn++ % PLAN_EVERY == 0);
            assert_int_equal(json_object_set(list[i].holder, list[i].key, value), 0);
        }
        json_decref(value);
    }
    for (size_t c = 0; c < COMMANDS; c++) {
        json_decref(whole[c]);
    }
    json_decref(bike);
}

#define BIKE(NAME)                                                                                                     \
    { .name = NAME, .test_func = leave_out, .initial_state = NAME ".json" }

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(faults_are_seen),
        BIKE("bracken-trek"),
        BIKE("fallow-26"),
        BIKE("harrow-stone"),
        BIKE("marram-gravel"),
        BIKE("osier-ridge"),
        BIKE("quillmoor-trail"),
        BIKE("sallow-tourer"),
        BIKE("tern-road"),
        BIKE("tiller-city"),
        BIKE("wren-24"),
    };
    return cmocka_run_group_tests(tests, load_shop, clear_shop);
}
