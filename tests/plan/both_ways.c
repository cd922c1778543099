/* SPDX-License-Identifier: Apache-2.0 */
/*
 * both-ways SHOP BIKE WISH [MIB]: plans with the fast search and with the plain one, and holds the answers against each other:
 * every way with its values, parts, cases, drawbacks and equals, and the picks.
 *
 * Prints one line: `same`, `differs` and in what, or `too large` where the plain search needs more than MIB (512). Exit
 * status 0, 1 or 2; 3 when something can't be read.
 */
#define _POSIX_C_SOURCE 200809L

#include "app/load.h"
#include "cli/command.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define MIB_MOST 512

enum { SAME = 0, DIFFERS = 1, TOO_LARGE = 2, UNREAD = 3 };

static void give_up(const char *what, const char *which) {
    fprintf(stderr, "both-ways: %s: %s\n", what, which);
    exit(UNREAD);
}

static double now_ms(void) {
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec * 1e3 + (double)time.tv_nsec / 1e6;
}

static struct plan *plan_once(const struct app_loaded *loaded, bool plain, double *ms) {
    struct plan_question question = app_question_of(loaded, &loaded->bike, &loaded->wish, &loaded->road);
    struct plan *plan = NULL;
    double start = now_ms();
    question.plain = plain;
    if (plan_new(&plan, &question) != BASE_OK) {
        give_up("no memory for", loaded->bike.label);
    }
    *ms = now_ms() - start;
    return plan;
}

/* The first thing in which two ways differ; NULL when they are the same in all. */
static const char *difference(const struct plan_way *a, const struct plan_way *b) {
    const struct {
        const char *what;
        bool same;
    } told[] = {
        {"values", memcmp(&a->values, &b->values, sizeof a->values) == 0},
        {"parts", memcmp(a->rank, b->rank, sizeof a->rank) == 0},
        {"equals", a->equals == b->equals},
        {"cases", memcmp(&a->cases, &b->cases, sizeof a->cases) == 0},
        {"certainty", a->certain == b->certain},
        {"drawbacks", a->drawbacks == b->drawbacks},
        {"what it hangs on", a->hangs == b->hangs},
        {"purposes", a->purposes == b->purposes},
    };
    for (size_t i = 0; i < sizeof told / sizeof *told; i++) {
        if (!told[i].same) {
            return told[i].what;
        }
    }
    return NULL;
}

/* What the bits of drawbacks and hangs stand for, and the picks. */
static bool same_beside(const struct plan *a, const struct plan *b) {
    bool same = a->n_drawbacks == b->n_drawbacks && a->n_hangs == b->n_hangs && a->n_picks == b->n_picks &&
                memcmp(a->picks, b->picks, a->n_picks * sizeof *a->picks) == 0;
    for (size_t i = 0; same && i < a->n_drawbacks; i++) {
        same = strcmp(a->drawbacks[i], b->drawbacks[i]) == 0;
    }
    for (size_t i = 0; same && i < a->n_hangs; i++) {
        same = a->hangs[i].subject == b->hangs[i].subject && a->hangs[i].property == b->hangs[i].property;
    }
    return same;
}

/* Prints in what the plans differ, or what the one answer is like. */
static int compare(const struct plan *fast, const struct plan *plain, double fast_ms, double plain_ms) {
    unsigned long long equals = 0;
    size_t n = fast->n_ways < plain->n_ways ? fast->n_ways : plain->n_ways;
    if (!plain->complete) {
        printf("too large: fast %.1f ms, plain %.1f ms\n", fast_ms, plain_ms);
        return TOO_LARGE;
    }
    for (size_t i = 0; i < n; i++) {
        const char *what = difference(&fast->ways[i], &plain->ways[i]);
        if (what) {
            printf("differs: way %zu of %zu, %zu: %s; cost %lld, %lld; equals %llu, %llu\n", i, fast->n_ways,
                   plain->n_ways, what, (long long)fast->ways[i].values.cost_minor,
                   (long long)plain->ways[i].values.cost_minor, (unsigned long long)fast->ways[i].equals,
                   (unsigned long long)plain->ways[i].equals);
            return DIFFERS;
        }
        equals += fast->ways[i].equals;
    }
    if (!fast->complete || fast->n_ways != plain->n_ways || !same_beside(fast, plain)) {
        printf("differs: %zu ways, %zu, %s; or drawbacks, hangs, picks\n", fast->n_ways, plain->n_ways,
               fast->complete ? "complete" : "not complete");
        return DIFFERS;
    }
    printf("same: ways=%zu equals=%llu drawbacks=%zu hangs=%zu picks=%zu fast_ms=%.1f plain_ms=%.1f\n", n, equals,
           fast->n_drawbacks, fast->n_hangs, fast->n_picks, fast_ms, plain_ms);
    return SAME;
}

int main(int argc, char **argv) {
    struct app_request request = {.command = "plan"};
    struct app_loaded loaded;
    double fast_ms, plain_ms;
    if (argc < 4) {
        give_up("usage", "both-ways SHOP BIKE WISH [MIB]");
    }
    request.bike = argv[2];
    request.wish = argv[3];
    request.memory_mib = argc > 4 ? (unsigned)atoi(argv[4]) : MIB_MOST;
    app_load_init(&loaded, &cli_world, &request);
    if (app_load_catalogue(&loaded, argv[1]) != BASE_OK || app_load_bike(&loaded) != BASE_OK ||
        app_load_wish(&loaded) != BASE_OK) {
        give_up("can't read", argv[1]);
    }
    struct plan *fast = plan_once(&loaded, false, &fast_ms), *plain = plan_once(&loaded, true, &plain_ms);
    int status = compare(fast, plain, fast_ms, plain_ms);
    plan_free(fast);
    plan_free(plain);
    app_load_clear(&loaded);
    return status;
}
