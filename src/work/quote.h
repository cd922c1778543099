/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What one way of converting a bike costs the customer, line by line, and what becomes of the parts.
 *
 * Labour is that of the operations for which the plan charges (plan/labour.h): without tax it is the plan's labour, to the
 * minor unit. Amounts are those of the shop's list, as work/tax.h has them.
 */
#ifndef WORK_QUOTE_H
#define WORK_QUOTE_H

#include "plan/labour.h"
#include "work/tax.h"

struct work_part_line {
    enum trade_slot slot;
    const struct trade_part *part; /* borrowed */
    bool ordered;                  /* none is here: it must be ordered */
};

struct work_labour_line {
    enum trade_operation operation;
    int64_t minor; /* as the bill has it */
};

struct work_quote {
    struct work_part_line parts[TRADE_SLOTS]; /* new ones, in the order of the slots */
    size_t n_parts;
    struct work_labour_line labour[TRADE_OPERATIONS]; /* that take time, in the order of their table */
    size_t n_labour;
    int64_t labour_minor; /* without tax: as the plan has it */
    int32_t tenths;       /* bench time, 0.1 minutes */
    uint32_t stays, off;  /* slots whose part of now stays, comes off or goes for a new one; bit sets */
    int32_t ready_days;   /* until the last part is here; 0 when all are; -1 when the list does not say of one */
    struct work_bill bill;
};

/* The quote of a build of this bike. discount_thousandths: of a percent, 0 to 100000. Borrows the parts. Never fails. */
void work_quote_of(struct work_quote *out, const struct trade_bike *bike, const struct fit_build *build,
                   const struct trade_shop *shop, int32_t discount_thousandths);

#endif
