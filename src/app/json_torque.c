/* SPDX-License-Identifier: Apache-2.0 */
#include "app/json_parts.h"
#include "app/torque.h"

#include <math.h>

/* Nothing where the cell is empty. */
static void key_cell(struct format_out *out, const char *key, const char *cell) {
    app_json_key_text(out, key, cell[0] != '\0' ? cell : NULL);
}

static void put_torque(struct format_out *out, const struct app_torque *torque) {
    static const char *const marks[] = {[TRADE_MARK_SEEN] = "seen",
                                        [TRADE_MARK_CALC] = "calc",
                                        [TRADE_MARK_CP] = "cp",
                                        [TRADE_MARK_MEM] = "mem",
                                        [TRADE_MARK_MEM_LOW] = "mem-low"};
    const struct trade_torques_row *row = torque->row;
    format_out_object(out);
    app_json_key_text(out, "name", row->name);
    app_json_key_text(out, "what", row->what);
    app_json_key_number(out, "low_nm", row->low_nm);
    app_json_key_number(out, "high_nm", row->high_nm);
    app_json_key_number(out, "maker_nm", torque->maker_nm);
    app_json_key_bool(out, "unusual", app_torque_unusual(torque));
    key_cell(out, "hand", row->hand < 0 ? "" : trade_domain_rows[TRADE_DOMAIN_HAND].words[row->hand].word);
    key_cell(out, "thread", row->thread);
    app_json_key_number(out, "screws", row->screws > 0 ? row->screws : (double)NAN);
    app_json_key_number(out, "friction_factor", torque->factor);
    app_json_key_number(out, "friction_scatter_share", torque->scatter_share);
    app_json_key_number(out, "preload_low_n", torque->low_n);
    app_json_key_number(out, "preload_high_n", torque->high_n);
    key_cell(out, "operation", row->operation);
    key_cell(out, "disputed", row->disputed);
    app_json_key_text(out, "source", row->source);
    app_json_key_text(out, "mark", marks[row->mark]);
    key_cell(out, "note", row->note);
    format_out_object_end(out);
}

void app_json_torques(struct base_buffer *buffer, const struct app_torque *torques, size_t n) {
    struct format_out out;
    format_out_init(&out, buffer, true);
    format_out_object(&out);
    format_out_key(&out, "torques");
    format_out_array(&out);
    for (size_t i = 0; i < n; i++) {
        put_torque(&out, &torques[i]);
    }
    format_out_array_end(&out);
    format_out_object_end(&out);
    format_out_done(&out);
}
