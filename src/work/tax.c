/* SPDX-License-Identifier: Apache-2.0 */
#include "work/tax.h"

#include "base/number.h"

#define WHOLE INT64_C(100000) /* a hundred percent in thousandths */

/* The lines of one rate, less the discount on them; the discount is added to the bill's. */
static int64_t take_off(struct work_bill *bill, int64_t lines_minor, int32_t discount_thousandths) {
    int64_t discount = base_scale(lines_minor, discount_thousandths, WHOLE);
    bill->discount_minor += discount;
    return lines_minor - discount;
}

static void tax_lines(struct work_bill *bill, int64_t lines_minor, int32_t thousandths) {
    int64_t without = lines_minor, tax;
    if (bill->includes_tax) {
        without = base_scale(lines_minor, WHOLE, WHOLE + thousandths);
        tax = lines_minor - without;
    } else {
        tax = base_scale(lines_minor, thousandths, WHOLE);
    }
    bill->taxes[bill->n_taxes++] = (struct work_tax){thousandths, tax};
    bill->net_minor += without;
    bill->total_minor += without + tax;
}

int64_t work_with_tax(const struct trade_shop *shop, int64_t listed_minor, int32_t discount_thousandths,
                      int32_t tax_thousandths) {
    int64_t added = shop->prices_include_tax ? 0 : tax_thousandths;
    return base_scale(listed_minor, (WHOLE - discount_thousandths) * (WHOLE + added), WHOLE * WHOLE);
}

/* A share of the ordered parts as the customer pays them: one product, so that it is rounded once. */
static int64_t deposit_of(const struct work_sums *sums, const struct trade_shop *shop) {
    int64_t added = shop->prices_include_tax ? 0 : shop->tax_thousandths;
    return base_scale(sums->ordered_minor,
                      (WHOLE - sums->discount_thousandths) * (WHOLE + added) * shop->deposit_thousandths,
                      WHOLE * WHOLE * WHOLE);
}

void work_bill_of(struct work_bill *out, const struct work_sums *sums, const struct trade_shop *shop) {
    *out = (struct work_bill){.parts_minor = sums->parts_minor,
                              .labour_minor = sums->labour_minor,
                              .consumables_minor = base_scale(sums->labour_minor, shop->consumables_thousandths, WHOLE),
                              .includes_tax = shop->prices_include_tax};
    int64_t labour = out->labour_minor + out->consumables_minor;
    if (shop->labour_tax_thousandths == shop->tax_thousandths) {
        tax_lines(out, take_off(out, out->parts_minor + labour, sums->discount_thousandths), shop->tax_thousandths);
    } else {
        tax_lines(out, take_off(out, out->parts_minor, sums->discount_thousandths), shop->tax_thousandths);
        tax_lines(out, take_off(out, labour, sums->discount_thousandths), shop->labour_tax_thousandths);
    }
    out->cash_minor = base_scale(out->total_minor, 1, shop->cash_minor) * shop->cash_minor;
    out->deposit_minor = deposit_of(sums, shop);
}
