/* SPDX-License-Identifier: Apache-2.0 */
#include "app/asking.h"

#include "app/climb.h"
#include "app/json.h"
#include "app/text.h"
#include "base/date.h"
#include "explain/explain.h"

#include <string.h>

/* --- what is said of a request ------------------------------------------------------------------------------------- */

void app_say(struct app_reply *reply, enum app_exit status, const char *code, const char *found, const char *allowed) {
    explain_tell(&reply->err, code, explain_words(found), explain_words(allowed));
    base_buffer_char(&reply->err, '\n');
    reply->status = status;
}

void app_say_none_called(struct app_reply *reply, const char *code, const char *found, const char *const *names,
                         size_t n) {
    struct base_buffer list;
    base_buffer_init(&list, 0);
    explain_put_list(&list, names, n, "list.and");
    app_say(reply, APP_USAGE, code, found, explain_held(&reply->err, &list));
    base_buffer_clear(&list);
}

bool app_ends_with(const char *path, const char *ending) {
    size_t n = strlen(path), m = strlen(ending);
    return n > m && strcmp(path + n - m, ending) == 0;
}

bool app_turned_down(struct app_reply *reply, const struct app_loaded *loaded) {
    const char *why, *can_do;
    if (!fit_refused(&loaded->bike, &why, &can_do)) {
        return false;
    }
    if (loaded->request->json) {
        app_json_refused(&reply->out, why, can_do);
    } else {
        app_text_refused(&reply->out, &loaded->request->style, &loaded->bike, why, can_do);
    }
    reply->status = APP_NO;
    return true;
}

/* --- what it names ------------------------------------------------------------------------------------------------- */

enum base_status app_day_of(int32_t *day, const struct app_loaded *loaded) {
    char now[APP_TIME];
    if (loaded->request->date) {
        return base_date_read(day, base_slice_of(loaded->request->date)) ? BASE_OK : BASE_BAD_INPUT;
    }
    enum base_status status = loaded->world->now(loaded->world->self, now);
    struct base_slice date = {now, BASE_DATE_CHARS};
    return status == BASE_OK && !base_date_read(day, date) ? BASE_SYSTEM : status;
}

enum base_status app_plan_for(struct plan **plan, const struct app_loaded *loaded) {
    if (!loaded->request->catalogue) {
        return BASE_OK;
    }
    struct plan_question question = app_question_of(loaded, &loaded->bike, &loaded->wish, &loaded->road);
    return plan_new(plan, &question);
}

enum base_status app_load_ride(struct app_loaded *loaded) {
    enum base_status status = app_load_begin_case(loaded);
    if (status != BASE_OK) {
        return status;
    }
    status = app_load_bike(loaded);
    status = app_first_of(status, app_load_way(loaded));
    if (loaded->request->catalogue) {
        status = app_first_of(status, app_load_wish(loaded));
        status = app_first_of(status, app_load_catalogue(loaded, loaded->request->catalogue));
    }
    status = status == BASE_OK ? app_load_road(loaded) : status;
    return status == BASE_OK ? app_climb_bound(&loaded->wish, &loaded->bike) : status;
}
