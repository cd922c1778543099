/* SPDX-License-Identifier: Apache-2.0 */
/* Bills, a line each, for bills.py: from sums and terms on standard input to the figures of the bill. */
#include "work/tax.h"

#include <inttypes.h>
#include <stdio.h>

static void write_bill(const struct work_bill *bill) {
    printf("%" PRId64 " %" PRId64 " %" PRId64 " %" PRId64, bill->parts_minor, bill->labour_minor,
           bill->consumables_minor, bill->discount_minor);
    printf(" %" PRId64 " %" PRId64, bill->taxes[0].minor, bill->n_taxes > 1 ? bill->taxes[1].minor : 0);
    printf(" %" PRId64 " %" PRId64 " %" PRId64 " %" PRId64 "\n", bill->net_minor, bill->total_minor, bill->cash_minor,
           bill->deposit_minor);
}

int main(void) {
    struct work_sums sums;
    struct trade_shop shop;
    int includes;
    trade_shop_init(&shop);
    while (scanf("%" SCNd64 " %" SCNd64 " %" SCNd64 " %" SCNd32, &sums.parts_minor, &sums.ordered_minor,
                 &sums.labour_minor, &sums.discount_thousandths) == 4 &&
           scanf("%" SCNd32 " %" SCNd32 " %d %" SCNd32 " %" SCNd32 " %" SCNd64, &shop.tax_thousandths,
                 &shop.labour_tax_thousandths, &includes, &shop.consumables_thousandths, &shop.deposit_thousandths,
                 &shop.cash_minor) == 6) {
        struct work_bill bill;
        shop.prices_include_tax = includes != 0;
        work_bill_of(&bill, &sums, &shop);
        write_bill(&bill);
    }
    return 0;
}
