/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How tight: the torques of a conversion's operations, from data/standards/torques.csv, and the preload that each makes of
 * a screw whose thread is known. They are guides: a figure of the part's maker comes before them.
 */
#ifndef APP_TORQUE_H
#define APP_TORQUE_H

#include "app/text.h"

struct app_torque {
    const struct trade_torques_row *row;
    double low_nm, high_nm; /* the row's own, or the maker's figure twice; NAN where the row has none */
    double maker_nm;        /* NAN: not given */
    double factor;          /* of the friction, by what is on the screw */
    double scatter_share;   /* how far that is off either way, as a share */
    double low_n, high_n;   /* preload of each screw; NAN where thread or torque are not known */
    const char *friction_source;
};

/* Of one row; maker_nm: what the part's maker says, NAN for nothing. */
struct app_torque app_torque_of(const struct trade_torques_row *row, double maker_nm);

/* Is the maker's figure outside the row's range? */
bool app_torque_unusual(const struct app_torque *torque);

/* As JSON documents: torque.schema.json; n of them. */
void app_json_torques(struct base_buffer *out, const struct app_torque *torques, size_t n);

/* As a person reads them: every one by its operation, or one in full. */
void app_text_torques(struct base_buffer *out, const struct app_style *style, const struct app_torque *torques,
                      size_t n);
void app_text_torque(struct base_buffer *out, const struct app_style *style, const struct app_torque *torque);

#endif
