/* SPDX-License-Identifier: Apache-2.0 */
/*
 * From the lines of a bill to what is to be paid: consumables, discount, tax, deposit, cash. Whole minor units throughout.
 *
 * Amounts are those of the shop's list: without tax, or with it where the list's prices hold it. What stands on a line is
 * never touched again; each further figure is rounded once, half away from zero, on the sum of all lines of one rate of tax.
 * So the lines add up to the total to the minor unit, whatever the rates are. The rule is common practice.
 */
#ifndef WORK_TAX_H
#define WORK_TAX_H

#include "trade/shop.h"

/* What stands on the lines. Minor units as the shop's list has them, each 0 to 1e13. */
struct work_sums {
    int64_t parts_minor;
    int64_t ordered_minor; /* of the parts, those that must be ordered */
    int64_t labour_minor;
    int32_t discount_thousandths; /* of a percent, 0 to 100000; off parts, labour and consumables alike */
};

/* Rates of tax that a bill can hold: of parts, and of labour where it is another one. */
enum { WORK_RATE_PARTS, WORK_RATE_LABOUR, WORK_RATES };

struct work_tax {
    int32_t thousandths; /* of a percent */
    int64_t minor;       /* on the lines of this rate, or in them; less the discount */
};

struct work_bill {
    int64_t parts_minor, labour_minor; /* as in the sums */
    int64_t consumables_minor;         /* share of labour, taxed as labour */
    int64_t discount_minor;            /* off all three; 0 or more */
    bool includes_tax;                 /* the amounts above hold the tax, and none is added */
    struct work_tax taxes[WORK_RATES];
    size_t n_taxes;      /* 1 where labour is taxed as parts are, and then on all of it at once */
    int64_t net_minor;   /* without tax */
    int64_t total_minor; /* to pay: net and taxes; also parts, labour, consumables less discount, and taxes if added */
    int64_t cash_minor;  /* the same in cash: the nearest amount that coins make */
    int64_t deposit_minor; /* share of what must be ordered, less discount, with tax */
};

/* The bill of these lines by the shop's terms. Never fails; sums as said above, so that nothing overflows. */
void work_bill_of(struct work_bill *out, const struct work_sums *sums, const struct trade_shop *shop);

/* An amount, less the discount and with tax: what the customer pays for a line of this rate alone. Rounded once. */
int64_t work_with_tax(const struct trade_shop *shop, int64_t listed_minor, int32_t discount_thousandths,
                      int32_t tax_thousandths);

#endif
