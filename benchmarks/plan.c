/* SPDX-License-Identifier: Apache-2.0 */
/*
 * time-plan SHOP WISH ROUNDS [BIKE...]: how long it takes to read a shop, and to plan each bike against it, warm.
 *
 * WISH is a file, or a list of objectives with commas: the wish then is one ring, without bounds. What is printed, a
 * line each, is words and name=value pairs; ms is the best of the rounds, of which there are fewer when they take more
 * than SECONDS:
 *
 *     read parts= ms= held_mib=
 *     classes n= ms=
 *     plan bike= front= complete= ms= first_ms= peak_mib= keep_ms= answer_ms= bound_ms=
 *
 * bound_ms is a moved bound: the plan of a budget in the middle of the front, from the plan that there is. first_ms is the first round, keep_ms what keeping the rings takes, answer_ms the picks with parts and findings as
 * JSON. peak_mib is what the first round took at its highest beyond what was there before. A line is written as soon as
 * it is known.
 */
#define _POSIX_C_SOURCE 200809L

#include "app/json_parts.h"
#include "app/load.h"
#include "cli/command.h"
#include "cli/heap.h"
#include "format/wish_in.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define SECONDS 5.0

static void give_up(const char *what, const char *which) {
    fprintf(stderr, "time-plan: %s: %s\n", what, which);
    exit(1);
}

static double now_ms(void) {
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec * 1e3 + (double)time.tv_nsec / 1e6;
}

/* --- memory -------------------------------------------------------------------------------------------------------- */

/* Of this process, MiB: VmRSS now, VmHWM at its highest since the last reset. */
static double memory_mib(const char *which) {
    char line[256];
    double kib = 0;
    FILE *status = fopen("/proc/self/status", "r");
    while (status && fgets(line, sizeof line, status)) {
        if (strncmp(line, which, strlen(which)) == 0) {
            kib = strtod(line + strlen(which) + 1, NULL);
        }
    }
    if (status) {
        fclose(status);
    }
    return kib / 1024;
}

static void reset_highest(void) {
    FILE *refs = fopen("/proc/self/clear_refs", "w");
    if (!refs || fputs("5", refs) < 0 || fclose(refs) != 0) {
        give_up("can't write", "/proc/self/clear_refs");
    }
}

/* --- what is asked ------------------------------------------------------------------------------------------------- */

static void set_objectives(struct app_loaded *loaded, const char *objectives) {
    char text[512];
    size_t n = (size_t)snprintf(text, sizeof text, "{\"rings\": 1, \"objectives\": [\"");
    for (const char *at = objectives; *at && n + 8 < sizeof text; at++) {
        n += (size_t)snprintf(text + n, sizeof text - n, *at == ',' ? "\", \"" : "%c", *at);
    }
    n += (size_t)snprintf(text + n, sizeof text - n, "\"]}");
    if (format_wish_read(&loaded->wish, (struct base_slice){text, n}, "wish", &loaded->faults) != BASE_OK) {
        give_up("no such objectives", objectives);
    }
}

static void set_wish(struct app_loaded *loaded, struct app_request *request, const char *wish) {
    if (!strstr(wish, ".json")) {
        set_objectives(loaded, wish);
        return;
    }
    request->wish = wish;
    if (app_load_wish(loaded) != BASE_OK) {
        give_up("can't read the wish", wish);
    }
}

static void read_shop(struct app_loaded *loaded, const char *folder) {
    double before_mib = memory_mib("VmRSS"), start = now_ms();
    if (app_load_catalogue(loaded, folder) != BASE_OK) {
        give_up("can't read the shop", folder);
    }
    printf("read parts=%zu ms=%.3f held_mib=%.1f\n", loaded->catalogue.n_all, now_ms() - start,
           memory_mib("VmRSS") - before_mib);
    fflush(stdout);
}

/* What the reading ended with: the classes of the list. */
static void time_classes(const struct app_loaded *loaded) {
    struct plan_shelf *shelf = NULL;
    size_t n = 0;
    double start = now_ms();
    if (plan_shelf_new(&shelf, &loaded->catalogue) != BASE_OK) {
        give_up("no memory for", "the classes");
    }
    double ms = now_ms() - start;
    for (unsigned kind = 0; kind < TRADE_KINDS; kind++) {
        n += shelf->n_classes[kind];
    }
    printf("classes n=%zu ms=%.3f\n", n, ms);
    fflush(stdout);
    plan_shelf_free(shelf);
}

/* --- a plan -------------------------------------------------------------------------------------------------------- */

struct times {
    double plan_ms, keep_ms, answer_ms, bound_ms, first_ms, peak_mib;
    size_t front;
    bool complete;
};

/* The only call of the planner. */
static struct plan *plan_once(const struct app_loaded *loaded, double *ms) {
    const struct plan_question question = app_question_of(loaded, &loaded->bike, &loaded->wish, &loaded->road);
    struct plan *plan = NULL;
    double start = now_ms();
    if (plan_new(&plan, &question) != BASE_OK) {
        give_up("no memory for", loaded->bike.label);
    }
    *ms = now_ms() - start;
    return plan;
}

static void keep_less(double *least, double ms) { *least = *least == 0 || ms < *least ? ms : *least; }

/* What stands beside the search in an answer. */
static void answer_once(struct times *times, struct plan *plan) {
    struct app_plan_shown shown = {.plan = plan};
    struct base_buffer text;
    struct format_out out;
    double start = now_ms();
    if (plan_keep_rings(&shown.kept, plan) != BASE_OK) {
        give_up("no memory for", "the rings of now");
    }
    keep_less(&times->keep_ms, now_ms() - start);
    start = now_ms();
    base_buffer_init(&text, 0);
    format_out_init(&out, &text, false);
    app_json_put_plan(&out, &shown, (unsigned)plan->n_picks);
    format_out_done(&out);
    keep_less(&times->answer_ms, now_ms() - start);
    base_buffer_clear(&text);
}

static void bound_once(struct times *times, const struct plan *plan) {
    struct trade_wish wish = plan->wish;
    struct plan *cut = NULL;
    bool can;
    if (plan->n_ways == 0) {
        return;
    }
    wish.given = true;
    wish.budget_minor = plan->ways[plan->n_ways / 2].values.cost_minor;
    double start = now_ms();
    if (plan_tighten(&cut, &can, plan, &wish) != BASE_OK) {
        give_up("no memory for", "a moved bound");
    }
    if (can) {
        keep_less(&times->bound_ms, now_ms() - start);
        plan_free(cut);
    }
}

static void time_bike(const struct app_loaded *loaded, const char *path, int rounds) {
    struct times times = {0};
    double start = now_ms(), before_mib = memory_mib("VmRSS");
    for (int round = 0; round < rounds && (round == 0 || now_ms() - start < SECONDS * 1e3); round++) {
        double ms;
        reset_highest();
        struct plan *plan = plan_once(loaded, &ms);
        keep_less(&times.plan_ms, ms);
        if (round == 0) {
            times.first_ms = ms;
            times.peak_mib = memory_mib("VmHWM") - before_mib;
            times.front = plan->n_ways;
            times.complete = plan->complete;
        }
        answer_once(&times, plan);
        bound_once(&times, plan);
        plan_free(plan);
    }
    const char *name = strrchr(path, '/');
    printf("plan bike=%s front=%zu complete=%d ms=%.3f first_ms=%.3f peak_mib=%.1f keep_ms=%.3f answer_ms=%.3f "
           "bound_ms=%.3f\n",
           name ? name + 1 : path, times.front, times.complete, times.plan_ms, times.first_ms, times.peak_mib,
           times.keep_ms, times.answer_ms, times.bound_ms);
    fflush(stdout);
}

int main(int argc, char **argv) {
    struct app_request request = {.command = "plan"};
    struct app_loaded loaded;
    if (argc < 4 || atoi(argv[3]) < 1) {
        give_up("usage", "time-plan SHOP WISH ROUNDS [BIKE...]");
    }
    cli_keep_large_blocks();
    app_load_init(&loaded, &cli_world, &request);
    read_shop(&loaded, argv[1]);
    time_classes(&loaded);
    set_wish(&loaded, &request, argv[2]);
    for (int i = 4; i < argc; i++) {
        request.bike = argv[i];
        if (app_load_bike(&loaded) != BASE_OK) {
            give_up("can't read the bike", argv[i]);
        }
        time_bike(&loaded, argv[i], atoi(argv[3]));
        trade_bike_clear(&loaded.bike);
    }
    loaded.has_bike = false;
    app_load_clear(&loaded);
    return 0;
}
