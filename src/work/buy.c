/* SPDX-License-Identifier: Apache-2.0 */
#include "work/buy.h"

#include <stdlib.h>
#include <string.h>

enum base_status work_buy_add(struct work_buys *buys, const struct trade_part *part, unsigned job) {
    size_t at = 0;
    while (at < buys->n && buys->at[at].part != part) {
        at++;
    }
    if (at == buys->n) {
        void *grown = base_arena_grow(buys->arena, buys->at, buys->n, &buys->room, buys->n + 1, sizeof *buys->at);
        if (!grown) {
            return BASE_NO_MEMORY;
        }
        buys->at = grown;
        buys->at[buys->n++] = (struct work_buy){.part = part};
    }
    buys->at[at].pieces++;
    buys->at[at].jobs |= UINT64_C(1) << job;
    return BASE_OK;
}

static int compare_suppliers(const char *a, const char *b) {
    if (!a || !b) {
        return (a == NULL) - (b == NULL);
    }
    return strcmp(a, b);
}

static int compare(const void *a, const void *b) {
    const struct trade_part *x = ((const struct work_buy *)a)->part, *y = ((const struct work_buy *)b)->part;
    int by = compare_suppliers(x->supplier, y->supplier);
    by = by != 0 ? by : (x->kind > y->kind) - (x->kind < y->kind);
    return by != 0 ? by : strcmp(x->id, y->id);
}

void work_buy_settle(struct work_buys *buys) {
    for (size_t i = 0; i < buys->n; i++) {
        struct work_buy *buy = &buys->at[i];
        int32_t here = buy->part->stock > 0 ? buy->part->stock : 0;
        buy->from_shelf = here < buy->pieces ? here : buy->pieces;
    }
    if (buys->n > 1) {
        qsort(buys->at, buys->n, sizeof *buys->at, compare);
    }
}

int32_t work_to_order(const struct work_buy *buy) { return buy->pieces - buy->from_shelf; }
