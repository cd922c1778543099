/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Screws: which torque makes which preload.
 *
 * One idea: of the torque on a screw, a little climbs the thread, and the rest is friction in the thread and under the
 * head. The short form lumps all of it into one number K; the long forms take thread and head apart. Scatter of 30 % is
 * honest for either. What a screw stands is not what an aluminium or carbon part stands: the part maker's torque wins.
 *
 * Lengths in mm, forces in N, torques in N m, stresses in N/mm2. Outputs are untouched on failure.
 */
#ifndef MECH_PRELOAD_H
#define MECH_PRELOAD_H

#include "base/status.h"

/* T = K F d. factor: K, about 0.1 (well greased) to 0.3 (dry); force_n and nominal_mm above 0. Source: Shigley, Mechanical
 * Engineering Design (torque factor K). */
double mech_preload_torque_nm(double factor, double force_n, double nominal_mm);

/* F = T / (K d). BASE_BAD_INPUT: factor or diameter not above 0, or a figure that is not finite. */
enum base_status mech_preload_force_n(double *out, double factor, double torque_nm, double nominal_mm) BASE_CHECKED;

/* The preload that a range of torques may make, N: the least torque at the most friction, the most torque at the least. */
struct mech_preload_range {
    double low_n, high_n;
};

/* factor: K; scatter: by which share it may be off either way, 0 up to below 1; low_nm up to high_nm, above 0. Source: T = K F d,
 * and the scatter of K as handbooks tell it, 0.3 (Bickford and Nassar, Handbook of Bolts and Bolted Joints, as quoted).
 * BASE_BAD_INPUT: out of range. */
enum base_status mech_preload_force_range(struct mech_preload_range *out, double factor, double scatter, double low_nm,
                                          double high_nm, double nominal_mm) BASE_CHECKED;

/* A screw with a 60 degree thread and one start, and the faces that rub. */
struct mech_preload_screw {
    double nominal_mm;      /* d: 1..100 */
    double pitch_mm;        /* P: above 0, below a third of d */
    double mean_mm;         /* where the flanks bear, on average: above d - 2 P, below d */
    double collar_mm;       /* mean diameter of the face that turns under the head: at least d / 2, up to 5 d */
    double thread_friction; /* 0..0.5 */
    double head_friction;   /* 0..0.5 */
};

/* A screw with the ISO metric profile: mean_mm becomes the pitch diameter d - 0.649519 P, collar_mm the mean of the
 * bearing face's outer diameter and of the hole's. Source: ISO 724 for the profile; VDI 2230 for the collar.
 * BASE_BAD_INPUT: a figure out of range, or a hole that is not smaller than the face. */
enum base_status mech_preload_screw_metric(struct mech_preload_screw *out, double nominal_mm, double pitch_mm,
                                           double face_outer_mm, double hole_mm, double thread_friction,
                                           double head_friction) BASE_CHECKED;

/* Torque for a preload, long form: F dm / 2 x (tan l + f sec a) / (1 - f tan l sec a) + F fc dc / 2, with tan l = P / (pi
 * dm) and a = 30 degrees. force_n 0..1e7. Source: Shigley, Mechanical Engineering Design (bolt torque). BASE_BAD_INPUT:
 * out of range. */
enum base_status mech_preload_long_torque_nm(double *out, const struct mech_preload_screw *screw,
                                             double force_n) BASE_CHECKED;

/* Torque for a preload: F (0.16 P + 0.58 d2 mu_thread + Dkm / 2 mu_head). force_n 0..1e7. Source: VDI 2230.
 * BASE_BAD_INPUT: out of range. */
enum base_status mech_preload_vdi_torque_nm(double *out, const struct mech_preload_screw *screw,
                                            double force_n) BASE_CHECKED;

/* Preload at which the shank, pulled and twisted at once, reaches 90 % of its 0.2 % proof stress:
 * 0.9 Rp A0 / sqrt(1 + 3 (1.5 (d2 / d0) (P / (pi d2) + 1.155 mu_thread))^2), A0 = pi / 4 d0^2, d0 = (d2 + d3) / 2,
 * d3 = d - 1.226869 P. proof: 50..2000 N/mm2 (640 for 8.8, 940 for 10.9, 1100 for 12.9). Metric screws only. Source: VDI
 * 2230. BASE_BAD_INPUT: out of range. */
enum base_status mech_preload_vdi_force_n(double *out, const struct mech_preload_screw *screw,
                                          double proof) BASE_CHECKED;

#endif
