/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "format/geometry_in.h"
#include "given.h"
#include "support/near.h"

#include <string.h>

#define REST                                                                                                           \
    ", \"ring\": 32, \"sprocket\": 21, \"wheel_radius_mm\": 370, \"wheelbase_mm\": 1200,"                              \
    " \"centre_of_mass_height_mm\": 1100, \"travel_mm\": [0, 40.5]}"

static void wheels_are_read_in_their_order(void **state) {
    (void)state;
    struct base_faults faults;
    struct format_wheels wheels;
    base_faults_init(&faults);
    const char *text = "{\"wheels\": [{\"x_mm\": -435, \"y_mm\": 30, \"teeth\": 18, \"sense\": \"cw\"},"
                       " {\"x_mm\": 0, \"y_mm\": 0.5, \"radius_mm\": 60, \"sense\": \"ccw\"}]}";
    assert_int_equal(format_wheels_read(&wheels, base_slice_of(text), "path.json", &faults), BASE_OK);
    assert_int_equal(wheels.n, 2);
    assert_int_equal(wheels.teeth[0], 18);
    assert_int_equal(wheels.teeth[1], 0);
    assert_near(wheels.at[0].radius_mm, 36.568193, 1e-6); /* p / (2 sin(pi / 18)), derived */
    assert_near(wheels.at[0].x_mm, -435.0, 0.0);
    assert_near(wheels.at[1].radius_mm, 60.0, 0.0);
    assert_near(wheels.at[1].y_mm, 0.5, 0.0);
    assert_int_equal(wheels.at[0].sense, -1);
    assert_int_equal(wheels.at[1].sense, 1);
    base_faults_clear(&faults);
}

/* Each document, and what must be told of it. */
static const struct {
    const char *text, *faults;
} bad_wheels[] = {
    {"{}", "0:0 | /wheels | nothing | a list of wheels | -\n"},
    {"{\"wheel\": [], \"wheels\": 3}", "0:0 | /wheel | - | a key of a path | wheels\n"
                                       "0:0 | /wheels | 3 | a list of wheels | -\n"},
    {"{\"wheels\": [{\"x_mm\": 0, \"y_mm\": 0, \"teeth\": 18, \"sense\": \"cw\"}]}",
     "0:0 | /wheels | fewer wheels | two to eight | -\n"},
    {"{\"wheels\": [1,2,3,4,5,6,7,8,9]}", "0:0 | /wheels | more wheels | two to eight | -\n"},
    {"{\"wheels\": [3, {\"x_mm\": 0, \"y_mm\": 0, \"teeth\": 18.5, \"sense\": \"clockwise\"}]}",
     "0:0 | /wheels/0 | 3 | an object of a wheel's keys | -\n"
     "0:0 | /wheels/1/teeth | 18.5 | a whole number from 6 to 130 | -\n"
     "0:0 | /wheels/1/sense | \"clockwise\" | one of cw, ccw | -\n"},
    {"{\"wheels\": [{\"x_mm\": 1e9, \"y_mm\": \"a\", \"sense\": \"cw\"},"
     " {\"x_mm\": 0, \"y_mm\": 0, \"teeth\": 18, \"radius_mm\": 30, \"tooth\": 1, \"sense\": \"cw\"}]}",
     "0:0 | /wheels/0/x_mm | 1000000000.0 | -5000 to 5000 | -\n"
     "0:0 | /wheels/0/y_mm | \"a\" | a number from -5000 to 5000 | -\n"
     "0:0 | /wheels/0/teeth | nothing | one of teeth, radius_mm | -\n"
     "0:0 | /wheels/1/tooth | - | a key of a wheel | teeth\n"
     "0:0 | /wheels/1/radius_mm | teeth and radius_mm | one of teeth, radius_mm | -\n"},
    {"{\"wheels\": [{\"x_mm\": 0, \"y_mm\": 0, \"radius_mm\": -3, \"sense\": \"cw\"},"
     " {\"x_mm\": 0, \"y_mm\": 0, \"teeth\": 0, \"sense\": \"cw\"}]}",
     "0:0 | /wheels/0/radius_mm | -3 | 6.4 to 1000 | -\n"
     "0:0 | /wheels/1/teeth | 0 | 6 to 130 | -\n"},
};

static void bad_wheels_are_told(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof bad_wheels / sizeof bad_wheels[0]; i++) {
        struct base_faults faults;
        struct format_wheels wheels, before;
        memset(&wheels, 0x5a, sizeof wheels);
        memcpy(&before, &wheels, sizeof wheels);
        base_faults_init(&faults);
        assert_int_equal(format_wheels_read(&wheels, base_slice_of(bad_wheels[i].text), "path.json", &faults),
                         BASE_BAD_INPUT);
        given_expect(&faults, bad_wheels[i].faults);
        assert_memory_equal(&wheels, &before, sizeof wheels);
        base_faults_clear(&faults);
    }
}

static struct format_suspension read_suspension(const char *text) {
    static struct format_suspension out;
    struct base_faults faults;
    base_faults_init(&faults);
    assert_int_equal(format_suspension_read(&out, base_slice_of(text), "suspension.json", &faults), BASE_OK);
    base_faults_clear(&faults);
    return out;
}

static void each_kind_of_suspension_is_read(void **state) {
    (void)state;
    struct format_suspension s = read_suspension("{\"axle_mm\": [-434, 30], \"pivot_mm\": [30, 60]" REST);
    assert_int_equal(s.suspension.kind, MECH_SUSPENSION_PIVOT);
    assert_near(s.suspension.pivot.y_mm, 60.0, 0.0);
    assert_int_equal(s.drive.ring, 32);
    assert_int_equal(s.drive.sprocket, 21);
    assert_near(s.drive.wheelbase_mm, 1200.0, 0.0);
    assert_near(s.drive.mass_height_mm, 1100.0, 0.0);
    assert_int_equal(s.n, 2);
    assert_near(s.travel_mm[1], 40.5, 0.0);
    s = read_suspension("{\"axle_mm\": [-434, 30], \"lower\": {\"frame_mm\": [1, 2], \"joint_mm\": [3, 4]},"
                        " \"upper\": {\"frame_mm\": [5, 6], \"joint_mm\": [7, 8]}" REST);
    assert_int_equal(s.suspension.kind, MECH_SUSPENSION_FOUR_BAR);
    assert_near(s.suspension.lower.joint.y_mm, 4.0, 0.0);
    assert_near(s.suspension.upper.frame.x_mm, 5.0, 0.0);
}

/* The axle at rest is a point of its path: the first one, one that stands there, or one that is put between. */
static void the_axle_joins_its_path(void **state) {
    (void)state;
    static const struct {
        const char *axle;
        size_t n, at;
        double x_mm, y_mm;
    } cases[] = {
        {"", 3, 0, -434.0, 30.0},
        {"\"axle_mm\": [-434, 30],", 3, 0, -434.0, 30.0},
        {"\"axle_mm\": [-436, 80],", 3, 1, -436.0, 80.0},
        {"\"axle_mm\": [-435, 50],", 4, 1, -435.0, 50.0},
        {"\"axle_mm\": [-433, 20],", 4, 0, -433.0, 20.0},
        {"\"axle_mm\": [-420, 190],", 4, 3, -420.0, 190.0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct base_buffer text;
        base_buffer_init(&text, 0);
        base_buffer_text(&text, "{");
        base_buffer_text(&text, cases[i].axle);
        base_buffer_text(&text, "\"axle_path_mm\": [[-434, 30], [-436, 80], [-425, 180]]" REST);
        struct format_suspension s = read_suspension(text.at);
        assert_int_equal(s.suspension.n, cases[i].n);
        assert_near(s.suspension.points[cases[i].at].x_mm, cases[i].x_mm, 0.0);
        assert_near(s.suspension.axle.x_mm, cases[i].x_mm, 0.0);
        assert_near(s.suspension.axle.y_mm, cases[i].y_mm, 0.0);
        for (size_t k = 1; k < s.suspension.n; k++) {
            assert_true(s.suspension.points[k].y_mm > s.suspension.points[k - 1].y_mm);
        }
        base_buffer_clear(&text);
    }
}

static const struct {
    const char *text, *faults;
} bad_suspensions[] = {
    {"{\"axle_mm\": [-434, 30]" REST,
     "0:0 | /pivot_mm | nothing | one of pivot_mm, lower and upper, axle_path_mm | -\n"},
    {"{\"axle_mm\": [-434, 30], \"pivot_mm\": [1, 2], \"axle_path_mm\": []" REST,
     "0:0 | /axle_path_mm | more than one of them | one of pivot_mm, lower and upper, axle_path_mm | -\n"},
    {"{\"axle_mm\": [-434], \"pivot_mm\": 3" REST,
     "0:0 | /axle_mm | a list of another length | a list of two numbers, x and y in mm | -\n"
     "0:0 | /pivot_mm | 3 | a list of two numbers, x and y in mm | -\n"},
    {"{\"axle_mm\": [-434, \"30\"], \"lower\": {\"frame_mm\": [1, 2], \"joint_m\": [3, 4]}" REST,
     "0:0 | /axle_mm/1 | \"30\" | a number from -5000 to 5000 | 30.0\n"
     "0:0 | /lower/joint_m | - | a key of a link | joint_mm\n"
     "0:0 | /lower/joint_mm | nothing | a list of two numbers, x and y in mm | -\n"
     "0:0 | /upper | nothing | an object with frame_mm and joint_mm | -\n"},
    {"{\"axle_path_mm\": [[-434, 30]]" REST, "0:0 | /axle_path_mm | fewer points | 2 to 31 points | -\n"},
    {"{\"axle_path_mm\": [[-434, 30], [-433, 20]]" REST,
     "0:0 | /axle_path_mm/1 | a point that lies no higher | points in the order of rising travel | -\n"},
    {"{\"axle_mm\": [-430, 30], \"axle_path_mm\": [[-434, 30], [-433, 90]]" REST,
     "0:0 | /axle_mm | another point | the point of axle_path_mm at its height, or one between these | -\n"},
    {"{\"axle_mm\": [-434, 30], \"pivot_mm\": [30, 60], \"travel_mm\": [], \"ring\": 300, \"sprocket\": true,"
     " \"wheel_radius_mm\": 37, \"wheelbase_mm\": -1, \"speed\": 3}",
     "0:0 | /speed | - | a key of a suspension | -\n"
     "0:0 | /ring | 300 | 6 to 130 | 30\n"
     "0:0 | /sprocket | true | a whole number from 6 to 130 | -\n"
     "0:0 | /wheel_radius_mm | 37 | 100 to 500 | 370.0\n"
     "0:0 | /wheelbase_mm | -1 | 400 to 3000 | -\n"
     "0:0 | /centre_of_mass_height_mm | nothing | a number from 100 to 3000 | -\n"
     "0:0 | /travel_mm | an empty list | 1 to 1000 travels | -\n"},
};

static void bad_suspensions_are_told(void **state) {
    (void)state;
    static struct format_suspension suspension, before;
    for (size_t i = 0; i < sizeof bad_suspensions / sizeof bad_suspensions[0]; i++) {
        struct base_faults faults;
        memset(&suspension, 0x5a, sizeof suspension);
        memcpy(&before, &suspension, sizeof suspension);
        base_faults_init(&faults);
        assert_int_equal(format_suspension_read(&suspension, base_slice_of(bad_suspensions[i].text), "s.json", &faults),
                         BASE_BAD_INPUT);
        given_expect(&faults, bad_suspensions[i].faults);
        assert_memory_equal(&suspension, &before, sizeof suspension);
        base_faults_clear(&faults);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wheels_are_read_in_their_order),  cmocka_unit_test(bad_wheels_are_told),
        cmocka_unit_test(each_kind_of_suspension_is_read), cmocka_unit_test(the_axle_joins_its_path),
        cmocka_unit_test(bad_suspensions_are_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
