/* SPDX-License-Identifier: Apache-2.0 */
/* A rider: open is open, and a machine is as known as its weakest figure. */
#include "ride/rider.h"
#include "support/near.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static void test_of_a_rider_nobody_asked_nothing_is_known(void **state) {
    (void)state;
    struct ride_rider rider;
    ride_rider_init(&rider);
    assert_int_equal(rider.power_w.known, BASE_OPEN);
    assert_true(isnan(rider.power_w.value));
    assert_int_equal(rider.flat.known, BASE_OPEN);
    assert_int_equal(ride_rider_total_kg(&rider).known, BASE_OPEN);
}

static void test_a_machine_is_as_known_as_its_weakest_figure(void **state) {
    (void)state;
    struct ride_rider rider;
    ride_rider_init(&rider);
    rider.mass_kg = ride_figure_of(75.0, BASE_MEASURED);
    rider.bike_mass_kg = ride_figure_of(11.0, BASE_MEASURED);
    rider.drag_area_m2 = ride_figure_of(0.4, BASE_TABLE);
    rider.wheel_drag_area_m2 = ride_figure_of(0.0044, BASE_MEASURED);
    rider.crr = ride_figure_of(0.006, BASE_MEASURED);
    rider.air_density_kg_m3 = ride_figure_of(1.2, BASE_MEASURED);
    enum base_known known;
    struct ride_machine machine = ride_rider_machine(&rider, &known);
    assert_int_equal(known, BASE_TABLE);
    assert_near(machine.mass_kg, 86.0, 0.0);
    assert_near(machine.drag_area_m2, 0.4, 0.0);
    assert_near(machine.wheel_drag_area_m2, 0.0044, 0.0);
    assert_near(machine.crr, 0.006, 0.0);
    assert_near(machine.air_density_kg_m3, 1.2, 0.0);
    rider.bike_mass_kg.known = BASE_ASSUMED;
    (void)ride_rider_machine(&rider, &known);
    assert_int_equal(known, BASE_ASSUMED);
    assert_int_equal(ride_rider_total_kg(&rider).known, BASE_ASSUMED);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_of_a_rider_nobody_asked_nothing_is_known),
        cmocka_unit_test(test_a_machine_is_as_known_as_its_weakest_figure),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
