/* SPDX-License-Identifier: Apache-2.0 */
/* Air: the standard atmosphere as printed, moist air against CIPM-2007. */
#include "ride/air.h"
#include "support/near.h"
#include "support/random.h"
#include "support/reference.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static void test_standard_atmosphere_as_printed(void **state) {
    (void)state;
    struct reference *r = reference_open("air_standard");
    while (reference_next(r)) {
        struct ride_air air;
        assert_int_equal(ride_air_standard(&air, reference_number(r, "geopotential_m")), BASE_OK);
        reference_check(r, "temperature_k", air.temperature_k, reference_number(r, "temperature_tolerance_k"));
        reference_check(r, "pressure_pa", air.pressure_pa, reference_number(r, "pressure_tolerance_pa"));
        reference_check(r, "density_kg_m3", air.density_kg_m3, reference_number(r, "density_tolerance_kg_m3"));
    }
    reference_close(r, 9);
}

/* By height above the sea; half of the last digit. */
static void test_standard_atmosphere_by_height(void **state) {
    (void)state;
    struct reference *r = reference_open("air_height");
    while (reference_next(r)) {
        struct ride_air air;
        double height_m = reference_number(r, "height_m");
        assert_int_equal(ride_air_standard(&air, ride_air_geopotential_m(height_m)), BASE_OK);
        reference_check(r, "density_kg_m3", air.density_kg_m3, height_m > 0.0 ? 5e-7 : 5e-5);
    }
    reference_close(r, 8);
}

/* Within a thousandth of CIPM-2007, as the header says; and of the short form of OIML R 111, which is itself good to some
 * 0.02 % where it is meant to be used and to 0.06 % in hot saturated air. */
static void test_moist_air(void **state) {
    (void)state;
    struct reference *r = reference_open("air_moist");
    while (reference_next(r)) {
        double density = -1.0;
        assert_int_equal(ride_air_density(&density, reference_number(r, "temperature_c"),
                                          reference_number(r, "pressure_pa"), reference_number(r, "humidity")),
                         BASE_OK);
        reference_check(r, "density_kg_m3", density, 0.001 * reference_number(r, "density_kg_m3"));
        reference_check(r, "short_kg_m3", density, 0.001 * reference_number(r, "short_kg_m3"));
    }
    reference_close(r, 6);
}

/* Water is lighter than air (18 against 29 g/mol): more of it, less density. Physics, so for any air. */
static void test_moister_air_is_lighter(void **state) {
    (void)state;
    struct random_source random = {3};
    for (int round = 0; round < 500; round++) {
        double temperature_c = random_between(&random, -45.0, 60.0);
        double pressure_pa = random_between(&random, 20000.0, 120000.0);
        double humidity = random_between(&random, 0.0, 0.9), dry = -1.0, moist = -1.0;
        assert_int_equal(ride_air_density(&dry, temperature_c, pressure_pa, humidity), BASE_OK);
        assert_int_equal(ride_air_density(&moist, temperature_c, pressure_pa, humidity + 0.1), BASE_OK);
        assert_true(moist < dry);
    }
}

/* Dry air by height is dry air by the temperature and pressure of that height; the two gas constants agree to 1e-5. */
static void test_the_two_ways_agree_in_dry_air(void **state) {
    (void)state;
    for (double height_m = -500.0; height_m <= 9000.0; height_m += 250.0) {
        struct ride_air air;
        double density = -1.0;
        assert_int_equal(ride_air_standard(&air, height_m), BASE_OK);
        assert_int_equal(ride_air_density(&density, air.temperature_k - 273.15, air.pressure_pa, 0.0), BASE_OK);
        assert_near(density / air.density_kg_m3, 1.0, 2e-5);
    }
}

static void test_air_that_is_out_of_range_is_refused(void **state) {
    (void)state;
    const double nan = (double)NAN;
    struct ride_air air = {-1.0, -1.0, -1.0};
    double density = -1.0;
    assert_int_equal(ride_air_standard(&air, 11001.0), BASE_BAD_INPUT);
    assert_int_equal(ride_air_standard(&air, -2001.0), BASE_BAD_INPUT);
    assert_int_equal(ride_air_standard(&air, nan), BASE_BAD_INPUT);
    assert_near(air.density_kg_m3, -1.0, 0.0);
    assert_int_equal(ride_air_density(&density, 61.0, 1e5, 0.5), BASE_BAD_INPUT);
    assert_int_equal(ride_air_density(&density, 20.0, 1000.0, 0.5), BASE_BAD_INPUT);
    assert_int_equal(ride_air_density(&density, 20.0, 1e5, 1.01), BASE_BAD_INPUT);
    assert_int_equal(ride_air_density(&density, nan, 1e5, 0.5), BASE_BAD_INPUT);
    assert_int_equal(ride_air_density(&density, 20.0, nan, 0.5), BASE_BAD_INPUT);
    assert_int_equal(ride_air_density(&density, 20.0, 1e5, nan), BASE_BAD_INPUT);
    assert_near(density, -1.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_standard_atmosphere_as_printed),
        cmocka_unit_test(test_standard_atmosphere_by_height),
        cmocka_unit_test(test_moist_air),
        cmocka_unit_test(test_moister_air_is_lighter),
        cmocka_unit_test(test_the_two_ways_agree_in_dry_air),
        cmocka_unit_test(test_air_that_is_out_of_range_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
