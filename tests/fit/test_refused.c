/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Bikes that are turned down at intake, each with a sentence and with what can still be done.
 */
#include "fit/judge.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static const struct {
    const char *why;
    int slot; /* -1: the frame */
    unsigned property, word;
} turned_down[] = {
    {"refused.damage", -1, TRADE_FRAME_DAMAGE, TRADE_DAMAGE_CRACKED},
    {"refused.damage", -1, TRADE_FRAME_DAMAGE, TRADE_DAMAGE_BENT},
    {"refused.damage", -1, TRADE_FRAME_DAMAGE, TRADE_DAMAGE_REPAIRED},
    {"refused.motor", -1, TRADE_FRAME_MOTOR, TRADE_MOTOR_HUB_MOTOR},
    {"refused.motor", -1, TRADE_FRAME_MOTOR, TRADE_MOTOR_MID_MOTOR},
    {"refused.belt", -1, TRADE_FRAME_DRIVE, TRADE_DRIVE_BELT},
    {"refused.tandem", -1, TRADE_FRAME_TANDEM, TRADE_YES_NO_YES},
    {"refused.gear-hub", TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_KIND, TRADE_HUB_KIND_GEAR_HUB},
    {"refused.fixed", TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_KIND, TRADE_HUB_KIND_FIXED},
    {"refused.coaster", TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_KIND, TRADE_HUB_KIND_COASTER},
    {"refused.coaster", -1, TRADE_FRAME_BRAKE, TRADE_BRAKE_COASTER},
    {"refused.one-piece", TRADE_SLOT_CRANK, TRADE_CRANK_SPINDLE, TRADE_SPINDLE_ONE_PIECE},
    {"refused.one-piece", -1, TRADE_FRAME_SHELL, TRADE_SHELL_ONE_PIECE_51},
};
#define TURNED_DOWN (sizeof turned_down / sizeof turned_down[0])

static void say(struct trade_bike *bike, int slot, unsigned property, unsigned word) {
    struct trade_part *part = slot < 0 ? &bike->frame : &bike->fitted[slot].part;
    trade_set(part, (enum trade_property)property, trade_word(word, BASE_MEASURED));
    if (slot >= 0) {
        bike->fitted[slot].state = TRADE_THERE;
    }
}

static void refuses(void **state) {
    (void)state;
    for (size_t i = 0; i < TURNED_DOWN; i++) {
        struct trade_bike bike;
        const char *why = "", *can_do = "";
        char expected[64];
        assert_int_equal(trade_bike_init(&bike), BASE_OK);
        assert_false(fit_refused(&bike, &why, &can_do)); /* nobody has looked at anything */
        say(&bike, turned_down[i].slot, turned_down[i].property, turned_down[i].word);
        assert_true(fit_refused(&bike, &why, &can_do));
        assert_string_equal(why, turned_down[i].why);
        snprintf(expected, sizeof expected, "%s.can-do", turned_down[i].why);
        assert_string_equal(can_do, expected);
        trade_bike_clear(&bike);
    }
}

/* Every other word of these properties is a bike that is planned for, and each word that is not stands above. */
static void takes_all_others(void **state) {
    (void)state;
    for (size_t i = 0; i < TURNED_DOWN; i++) {
        size_t n = trade_domain_rows[trade_property_rows[turned_down[i].property].domain].n;
        for (unsigned word = 0; word < n; word++) {
            bool listed = false;
            for (size_t j = 0; j < TURNED_DOWN; j++) {
                listed = listed || (turned_down[j].property == turned_down[i].property && turned_down[j].word == word);
            }
            struct trade_bike bike;
            const char *why, *can_do;
            assert_int_equal(trade_bike_init(&bike), BASE_OK);
            say(&bike, turned_down[i].slot, turned_down[i].property, word);
            assert_int_equal(fit_refused(&bike, &why, &can_do), listed);
            trade_bike_clear(&bike);
        }
    }
}

/* A damaged frame is told before everything else, since it stops all work; a part that is not there is no reason. */
static void order(void **state) {
    (void)state;
    struct trade_bike bike;
    const char *why = "", *can_do;
    assert_int_equal(trade_bike_init(&bike), BASE_OK);
    say(&bike, -1, TRADE_FRAME_MOTOR, TRADE_MOTOR_HUB_MOTOR);
    say(&bike, -1, TRADE_FRAME_DAMAGE, TRADE_DAMAGE_CRACKED);
    assert_true(fit_refused(&bike, &why, &can_do));
    assert_string_equal(why, "refused.damage");
    trade_bike_clear(&bike);
    assert_int_equal(trade_bike_init(&bike), BASE_OK);
    say(&bike, TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_KIND, TRADE_HUB_KIND_FIXED);
    bike.fitted[TRADE_SLOT_REAR_WHEEL].state = TRADE_EMPTY;
    assert_false(fit_refused(&bike, &why, &can_do));
    trade_bike_clear(&bike);
}

/* Each code has its sentence, and each says what can still be done. */
static void sentences(void **state) {
    (void)state;
    char path[1024], text[8192];
    snprintf(path, sizeof path, "%s/data/messages/refused.csv", getenv("CW_SOURCE_ROOT"));
    FILE *in = fopen(path, "rb");
    assert_non_null(in);
    size_t n = fread(text, 1, sizeof text - 1, in);
    fclose(in);
    assert_true(n > 0 && n < sizeof text - 1);
    text[n] = '\0';
    for (size_t i = 0; i < TURNED_DOWN; i++) {
        char start[64];
        snprintf(start, sizeof start, "\n%s,", turned_down[i].why);
        assert_non_null(strstr(text, start));
        snprintf(start, sizeof start, "\n%s.can-do,", turned_down[i].why);
        assert_non_null(strstr(text, start));
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(refuses),
        cmocka_unit_test(takes_all_others),
        cmocka_unit_test(order),
        cmocka_unit_test(sentences),
    };
    return cmocka_run_group_tests_name("bikes that are turned down", tests, NULL, NULL);
}
