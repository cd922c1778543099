/* SPDX-License-Identifier: Apache-2.0 */
#include "app/text_shared.h"

void app_text_refused(struct base_buffer *out, const struct app_style *style, const struct trade_bike *bike,
                      const char *why, const char *can_do) {
    struct app_page page = app_page_on(out, style);
    struct base_buffer text;
    app_title(&page, bike, explain_message("refuse.title"));
    app_question(&page, "refuse.question");
    base_buffer_init(&text, 0);
    explain_tell(&text, "refuse.no", explain_code(why));
    app_end_paragraph(&page, &text);
    app_lay_blank(&page, 1);
    app_paragraph(&page, "refuse.can-do", explain_code(can_do));
}
