/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a derailleur drive loses: friction in the chain's joints.
 *
 * One idea: a joint that bends under tension by the angle of a tooth rubs its pin, once when it seats on a wheel and once
 * when it leaves. Small wheels bend it further; the cage's spring pulls on the slack side and in the two wheels of the
 * cage; a chain that runs crooked bends sideways besides. The share that is lost depends on tension, not on speed.
 *
 * One number stands for all friction, K = 2 pi mu r / p (friction, radius of the pin, pitch): published losses give 0.17
 * to 0.22 for what is ridden, 0.09 for a clean chain on a rig. No better than 1.5 points of efficiency can be claimed; the
 * crooked term is the least certain, its order alone is sure. Neglected: chain mass, teeth that wear, bearings of cranks.
 */
#ifndef MECH_DRIVE_H
#define MECH_DRIVE_H

/* The chain and its derailleur. */
struct mech_drive {
    double friction; /* K, no unit: 0..0.5 */
    double cage_n;   /* tension of the slack side by the cage: 0..50 */
    int wheel_teeth; /* of guide and tension wheel, 9..16; 0: no derailleur */
};

/* Shares of the rider's power that are lost, by where. */
struct mech_drive_loss {
    double seating; /* on ring and sprocket */
    double wheels;  /* on guide and tension wheel */
    double crooked; /* the chain's angle */
};

/* Net tension of the pulling side, N: power over the chain's speed, ring teeth x pitch x turns a second. power_w and
 * cadence_rpm above 0. By definition. */
double mech_drive_tension_n(double power_w, int ring, double cadence_rpm);

/* How far a joint bends on a wheel, degrees: 360 / teeth. By definition. */
double mech_drive_articulation_deg(int teeth);

/* What is lost at a net tension (2 N and more) in a gear whose chain runs at an angle of angle_deg, 0..10 in size, to the
 * bike's centre plane: K (1 / ring + 1 / sprocket) (1 + 2 s) on ring and sprocket with s = cage tension / net tension,
 * 4 K s / wheel teeth on the two wheels, K b / (pi r) times the angle for a joint that bends sideways as it seats and
 * leaves, over half the chain's width b = 3 mm, on a pin of r = 1.83 mm. Source: work of friction in a joint, as in Spicer
 * et al., J Mech Des 123, 2001; the sideways term by the same means. */
struct mech_drive_loss mech_drive_loss_of(const struct mech_drive *drive, int ring, int sprocket, double tension_n,
                                          double angle_deg);

/* What is left of 1. Above 0.9 for what is ridden at 50 W and more. */
double mech_drive_efficiency(const struct mech_drive_loss *loss);

/* Ripple of the chain's speed on a wheel, percent: 100 (1 - cos(pi / teeth)), between a chain that meets the wheel as a chord
 * and as a tangent. teeth as in sprocket.h. Source: chordal action, as in handbooks of machine elements. */
double mech_drive_ripple_percent(int teeth);

#endif
