/* SPDX-License-Identifier: Apache-2.0 */
#include "mech/preload.h"

#include "mech/constants.h"

#include <math.h>
#include <stdbool.h>

#define FORCE_MAX_N 1e7
#define FRICTION_MAX 0.5
#define PROOF_MIN 50.0
#define PROOF_MAX 2000.0
#define FLANK_DEG 30.0
#define NM_IN_NMM 1e-3

/* Comparisons are false for a value that is not a number. */
static bool within(double x, double low, double high) { return x >= low && x <= high; }

static bool screw_allowed(const struct mech_preload_screw *s) {
    return within(s->nominal_mm, 1.0, 100.0) && s->pitch_mm > 0.0 && s->pitch_mm < s->nominal_mm / 3.0 &&
           s->mean_mm > s->nominal_mm - 2.0 * s->pitch_mm && s->mean_mm < s->nominal_mm &&
           within(s->collar_mm, s->nominal_mm / 2.0, 5.0 * s->nominal_mm) &&
           within(s->thread_friction, 0.0, FRICTION_MAX) && within(s->head_friction, 0.0, FRICTION_MAX);
}

static bool load_allowed(const struct mech_preload_screw *s, double force_n) {
    return screw_allowed(s) && within(force_n, 0.0, FORCE_MAX_N);
}

double mech_preload_torque_nm(double factor, double force_n, double nominal_mm) {
    return factor * force_n * nominal_mm * NM_IN_NMM;
}

enum base_status mech_preload_force_n(double *out, double factor, double torque_nm, double nominal_mm) {
    if (!isfinite(factor) || !isfinite(torque_nm) || !isfinite(nominal_mm) || factor <= 0.0 || nominal_mm <= 0.0) {
        return BASE_BAD_INPUT;
    }
    *out = torque_nm / (factor * nominal_mm * NM_IN_NMM);
    return BASE_OK;
}

enum base_status mech_preload_force_range(struct mech_preload_range *out, double factor, double scatter, double low_nm,
                                          double high_nm, double nominal_mm) {
    struct mech_preload_range range;
    if (!(scatter >= 0.0 && scatter < 1.0) || !(low_nm > 0.0 && high_nm >= low_nm) ||
        mech_preload_force_n(&range.low_n, factor * (1.0 + scatter), low_nm, nominal_mm) != BASE_OK ||
        mech_preload_force_n(&range.high_n, factor * (1.0 - scatter), high_nm, nominal_mm) != BASE_OK) {
        return BASE_BAD_INPUT;
    }
    *out = range;
    return BASE_OK;
}

enum base_status mech_preload_screw_metric(struct mech_preload_screw *out, double nominal_mm, double pitch_mm,
                                           double face_outer_mm, double hole_mm, double thread_friction,
                                           double head_friction) {
    struct mech_preload_screw screw = {
        .nominal_mm = nominal_mm,
        .pitch_mm = pitch_mm,
        .mean_mm = nominal_mm - 0.649519 * pitch_mm,
        .collar_mm = (face_outer_mm + hole_mm) / 2.0,
        .thread_friction = thread_friction,
        .head_friction = head_friction,
    };
    if (!(hole_mm > 0.0 && hole_mm < face_outer_mm) || !screw_allowed(&screw)) {
        return BASE_BAD_INPUT;
    }
    *out = screw;
    return BASE_OK;
}

enum base_status mech_preload_long_torque_nm(double *out, const struct mech_preload_screw *screw, double force_n) {
    if (!load_allowed(screw, force_n)) {
        return BASE_BAD_INPUT;
    }
    double climb = screw->pitch_mm / (MECH_PI * screw->mean_mm);
    double rub = screw->thread_friction / cos(mech_radians(FLANK_DEG));
    /* The ranges keep rub x climb below 0.2: no such thread jams. */
    double thread = screw->mean_mm / 2.0 * (climb + rub) / (1.0 - rub * climb);
    double head = screw->head_friction * screw->collar_mm / 2.0;
    *out = force_n * (thread + head) * NM_IN_NMM;
    return BASE_OK;
}

enum base_status mech_preload_vdi_torque_nm(double *out, const struct mech_preload_screw *screw, double force_n) {
    if (!load_allowed(screw, force_n)) {
        return BASE_BAD_INPUT;
    }
    double arm = 0.16 * screw->pitch_mm + 0.58 * screw->mean_mm * screw->thread_friction +
                 screw->collar_mm / 2.0 * screw->head_friction;
    *out = force_n * arm * NM_IN_NMM;
    return BASE_OK;
}

enum base_status mech_preload_vdi_force_n(double *out, const struct mech_preload_screw *screw, double proof) {
    if (!screw_allowed(screw) || !within(proof, PROOF_MIN, PROOF_MAX)) {
        return BASE_BAD_INPUT;
    }
    double core_mm = screw->nominal_mm - 1.226869 * screw->pitch_mm;
    double stress_mm = (screw->mean_mm + core_mm) / 2.0;
    double area_mm2 = MECH_PI * stress_mm * stress_mm / 4.0;
    double climb = screw->pitch_mm / (MECH_PI * screw->mean_mm);
    double twist = 1.5 * (screw->mean_mm / stress_mm) * (climb + 1.155 * screw->thread_friction);
    *out = 0.9 * proof * area_mm2 / sqrt(1.0 + 3.0 * twist * twist);
    return BASE_OK;
}
