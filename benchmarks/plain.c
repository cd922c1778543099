/* SPDX-License-Identifier: Apache-2.0 */
/*
 * time-plain PARTS OBJECTIVES SEED ROUNDS: the plain dynamic program, on an instance without any trade in it (instance.h).
 *
 * The program goes through the slots. Its state is the parts in the last two slots; of each it keeps the sums that no
 * other sum of the state beats, found by sorting. Nothing is pruned and no states are merged.
 *
 *     time-plain --show PARTS OBJECTIVES SEED    the instance: slot, objectives, value at each interface (-1: none)
 *
 * Otherwise the front is printed, a point a line, then `plain points= ms=`, the best of the rounds.
 */
#define _POSIX_C_SOURCE 200809L

#include "instance.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

struct point {
    int at[INSTANCE_OBJECTIVES_MAX];
};

/* Sums of a state; the front once it was settled. */
struct front {
    struct point *at;
    size_t n, room;
};

static void give_up(const char *why) {
    fprintf(stderr, "time-plain: %s\n", why);
    exit(1);
}

static double now_ms(void) {
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec * 1e3 + (double)time.tv_nsec / 1e6;
}

/* --- the instance -------------------------------------------------------------------------------------------------- */

static void show(const struct instance *in) {
    for (int slot = 0; slot < INSTANCE_SLOTS; slot++) {
        for (int p = 0; p < in->parts; p++) {
            printf("%d", slot);
            for (int o = 0; o < in->objectives; o++) {
                printf(" %d", in->part[slot][p].worth[o]);
            }
            for (int i = 0; i < INSTANCE_INTERFACES; i++) {
                printf(" %d", in->part[slot][p].value[i]);
            }
            printf("\n");
        }
    }
}

static bool meet(const struct instance *in, int slot, int a, int next, int b) {
    for (int i = 0; i < INSTANCE_INTERFACES; i++) {
        if (instance_ends[i][0] == slot && instance_ends[i][1] == next) {
            return in->part[slot][a].value[i] == in->part[next][b].value[i];
        }
    }
    return true;
}

/* --- fronts -------------------------------------------------------------------------------------------------------- */

/* A point and what a part adds to it. */
static void push(struct front *front, const int *a, const int *b) {
    if (front->n == front->room) {
        front->room = front->room ? front->room * 2 : 16;
        front->at = realloc(front->at, front->room * sizeof *front->at);
        if (!front->at) {
            give_up("no memory");
        }
    }
    for (int o = 0; o < INSTANCE_OBJECTIVES_MAX; o++) {
        front->at[front->n].at[o] = a[o] + b[o];
    }
    front->n++;
}

static int compare(const void *a, const void *b) {
    const struct point *p = a, *q = b;
    for (int o = 0; o < INSTANCE_OBJECTIVES_MAX; o++) {
        if (p->at[o] != q->at[o]) {
            return p->at[o] < q->at[o] ? -1 : 1;
        }
    }
    return 0;
}

/* Keeps what nothing else is as good as. Sorted, whatever is as good as a point stands before it. */
static void settle(struct front *front) {
    size_t kept = 0;
    if (front->n > 1) {
        qsort(front->at, front->n, sizeof *front->at, compare);
    }
    for (size_t i = 0; i < front->n; i++) {
        const struct point *p = &front->at[i];
        size_t k = 0;
        while (k < kept && !(front->at[k].at[1] <= p->at[1] && front->at[k].at[2] <= p->at[2])) {
            k++;
        }
        if (k == kept) {
            front->at[kept++] = *p;
        }
    }
    front->n = kept;
}

/* --- the dynamic program ------------------------------------------------------------------------------------------- */

static struct front *new_states(int parts) {
    struct front *states = calloc((size_t)parts * (size_t)parts, sizeof *states);
    if (!states) {
        give_up("no memory");
    }
    return states;
}

static void free_states(struct front *states, int parts) {
    for (int s = 0; s < parts * parts; s++) {
        free(states[s].at);
    }
    free(states);
}

static struct front *first_states(const struct instance *in) {
    struct front *states = new_states(in->parts);
    for (int a = 0; a < in->parts; a++) {
        for (int b = 0; b < in->parts; b++) {
            if (meet(in, 0, a, 1, b)) {
                push(&states[a * in->parts + b], in->part[0][a].worth, in->part[1][b].worth);
            }
        }
    }
    return states;
}

/* From the parts in slots next - 2 and next - 1 to those in next - 1 and next. */
static struct front *step(const struct instance *in, const struct front *from, int next) {
    struct front *states = new_states(in->parts);
    for (int b = 0; b < in->parts; b++) {
        for (int c = 0; c < in->parts; c++) {
            struct front *to = &states[b * in->parts + c];
            for (int a = 0; a < in->parts && meet(in, next - 1, b, next, c); a++) {
                const struct front *front = &from[a * in->parts + b];
                for (size_t i = 0; i < front->n && meet(in, next - 2, a, next, c); i++) {
                    push(to, front->at[i].at, in->part[next][c].worth);
                }
            }
            settle(to);
        }
    }
    return states;
}

static struct front solve(const struct instance *in) {
    static const int nothing[INSTANCE_OBJECTIVES_MAX];
    struct front all = {0}, *states = first_states(in);
    for (int next = 2; next < INSTANCE_SLOTS; next++) {
        struct front *then = step(in, states, next);
        free_states(states, in->parts);
        states = then;
    }
    for (int s = 0; s < in->parts * in->parts; s++) {
        for (size_t i = 0; i < states[s].n; i++) {
            push(&all, states[s].at[i].at, nothing);
        }
    }
    free_states(states, in->parts);
    settle(&all);
    return all;
}

static void print_front(const struct front *front, int objectives) {
    for (size_t i = 0; i < front->n; i++) {
        for (int o = 0; o < objectives; o++) {
            printf("%s%d", o ? " " : "", front->at[i].at[o]);
        }
        printf("\n");
    }
}

int main(int argc, char **argv) {
    static struct instance in;
    bool shown = argc > 1 && strcmp(argv[1], "--show") == 0;
    char **given = argv + 1 + shown;
    if (argc != 5 || atoi(given[0]) < 1 || atoi(given[0]) > INSTANCE_PARTS_MAX || atoi(given[1]) < 2 ||
        atoi(given[1]) > INSTANCE_OBJECTIVES_MAX) {
        give_up("usage: time-plain [--show] PARTS OBJECTIVES SEED ROUNDS");
    }
    instance_make(&in, atoi(given[0]), atoi(given[1]), strtoull(given[2], NULL, 10));
    if (shown) {
        show(&in);
        return 0;
    }
    double best_ms = 0;
    for (int round = 0; round < atoi(given[3]); round++) {
        double start = now_ms();
        struct front front = solve(&in);
        double ms = now_ms() - start;
        best_ms = round == 0 || ms < best_ms ? ms : best_ms;
        if (round == 0) {
            print_front(&front, atoi(given[1]));
            printf("plain points=%zu ", front.n);
        }
        free(front.at);
    }
    printf("ms=%.3f\n", best_ms);
    return 0;
}
