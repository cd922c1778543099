/* SPDX-License-Identifier: Apache-2.0 */
#include "app/work.h"

#include <string.h>

enum base_status app_work_of(struct app_work *out, const struct plan *plan, const struct plan_way *way,
                             const char *letter) {
    const struct plan_question *asked = &plan->question;
    memset(out, 0, sizeof *out);
    out->plan = plan;
    out->way = way;
    out->letter = letter;
    app_chain_of(&out->chain, asked->bike, &out->way->build, &plan->cases, false);
    app_shift_of(&out->shift, asked->bike, &out->way->build, &plan->cases, false);
    out->question = (struct work_question){.bike = asked->bike,
                                           .build = &out->way->build,
                                           .shop = asked->shop,
                                           .cases = &plan->cases,
                                           .links = out->chain.links,
                                           .links_known = out->chain.known};
    enum base_status status = work_sheet_of(&out->sheet, &out->question);
    if (status == BASE_OK) {
        out->red = work_red_of(&out->sheet, &out->question);
    }
    return status;
}
