/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How long a route takes: a track of 100 000 points read, cleaned and ridden in 22 gears; many gearings scored on it; and
 * the same ride by the obvious loop, forward in time in steps of a tenth of a second.
 *
 * time-ride FOLDER: writes the track there, and speeds.txt, the speed and time of each pedalled stretch, for others to
 * score. Prints a line for each: what, ms. The best of ROUNDS, in time of the processor.
 */
#define _POSIX_C_SOURCE 200809L

#include "format/gpx_in.h"
#include "ride/road.h"
#include "ride/score.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define POINTS 100000
#define ROUNDS 10
#define PIECE 16384
#define GEARINGS 10000
#define STEP_S 0.1

static const struct ride_habits habits = {.power_w = 200.0,
                                          .flat = {60.0, 95.0, BASE_MEASURED},
                                          .climb = {60.0, 95.0, BASE_MEASURED},
                                          .least_rpm = 40.0,
                                          .spin_rpm = 115.0,
                                          .efficiency = 0.976,
                                          .climb_gradient = 0.03,
                                          .coast_mps = 12.5,
                                          .brake_mps = 16.7,
                                          .walk_mps = 1.0};

static double now_ms(void) {
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec * 1e3 + (double)t.tv_nsec / 1e6;
}

static void need(bool holds) {
    if (!holds) {
        fputs("time-ride: something failed\n", stderr);
        exit(1);
    }
}

/* --- the track ----------------------------------------------------------------------------------------------------- */

/* A point every 4 m over hills, with heights to a decimetre and times, as recorders write them. */
static void write_track(const char *path) {
    FILE *file = fopen(path, "w");
    need(file);
    double latitude = 45.0, longitude = -30.0;
    fputs("<gpx version=\"1.1\" xmlns=\"http://www.topografix.com/GPX/1/1\"><trk><trkseg>\n", file);
    for (int i = 0; i < POINTS; i++) {
        double height = 500.0 + 120.0 * sin(i / 600.0) + 15.0 * sin(i / 70.0) + 0.2 * sin(i * 7.1);
        latitude += 3.6e-5 * cos(i / 3000.0);
        longitude += 5.1e-5 * sin(i / 2100.0);
        fprintf(file,
                "<trkpt lat=\"%.6f\" lon=\"%.6f\"><ele>%.1f</ele><time>2026-05-%02dT%02d:%02d:%02dZ</time></trkpt>\n",
                latitude, longitude, height, 1 + i / 86400, i / 3600 % 24, i / 60 % 60, i % 60);
    }
    fputs("</trkseg></trk></gpx>\n", file);
    need(fclose(file) == 0);
}

static struct base_slice read_whole(const char *path) {
    FILE *file = fopen(path, "rb");
    need(file && fseek(file, 0, SEEK_END) == 0);
    long n = ftell(file);
    need(n > 0 && fseek(file, 0, SEEK_SET) == 0);
    char *bytes = malloc((size_t)n);
    need(bytes && fread(bytes, 1, (size_t)n, file) == (size_t)n);
    fclose(file);
    return (struct base_slice){bytes, (size_t)n};
}

static void read_track(struct ride_route *route, struct base_arena *arena, struct base_slice text) {
    struct base_faults faults;
    struct format_gpx *gpx;
    base_faults_init(&faults);
    need(format_gpx_new(&gpx, route, arena, "track.gpx", &faults) == BASE_OK);
    for (size_t at = 0; at < text.n; at += PIECE) {
        size_t n = text.n - at < PIECE ? text.n - at : PIECE;
        need(format_gpx_feed(gpx, (struct base_slice){text.at + at, n}) == BASE_OK);
    }
    need(format_gpx_end(gpx) == BASE_OK);
    format_gpx_free(gpx);
    base_faults_clear(&faults);
}

/* --- scores -------------------------------------------------------------------------------------------------------- */

static double score_many(const struct ride_speeds *speeds, int many) {
    double sum = 0.0;
    for (int i = 0; i < many; i++) {
        double developments_m[12], next = 1.2 + 1e-4 * i;
        for (int g = 0; g < 12; g++, next *= 1.17) {
            developments_m[g] = next;
        }
        sum += ride_score_of(speeds, developments_m, 12).in_band;
    }
    return sum;
}

/* --- the obvious loop ---------------------------------------------------------------------------------------------- */

/* The same rider and habits without gears: Euler's steps forward in time. */
static double ride_plainly(const struct ride_cell *cells, size_t n) {
    double v = 5.0, time_s = 0.0, at = 0.0, mass = ride_load_inert_mass_kg(&road_machine);
    for (size_t i = 0; i < n; time_s += STEP_S) {
        const struct ride_road road = {cells[i].gradient, 0.0};
        double push = v < habits.coast_mps ? habits.power_w * habits.efficiency / fmax(v, 0.5) : 0.0;
        v = fmin(v + STEP_S * (push - ride_load_force_n(&road_machine, &road, v)) / mass, habits.brake_mps);
        for (at += v * STEP_S; i < n && at >= cells[i].length_m; i++) {
            at -= cells[i].length_m;
        }
    }
    return time_s;
}

/* --- all of it ----------------------------------------------------------------------------------------------------- */

enum what { READ, CLEAN, RIDE, ONE, MANY, PLAIN, WHATS };
static const char *const names[WHATS] = {"read", "clean", "ride", "score-one", "score-many", "plain"};

static void write_speeds(const char *path, const struct ride_run *run, size_t n) {
    FILE *file = fopen(path, "w");
    need(file);
    for (size_t i = 0; i < n; i++) {
        if (run->moments[i].mode != RIDE_MODE_COASTING) {
            fprintf(file, "%.9g %.9g\n", (double)run->moments[i].speed_mps, (double)run->moments[i].time_s);
        }
    }
    need(fclose(file) == 0);
}

/* Times of one round, each kept where it is the best; what else is told of the last. */
struct told {
    double ms[WHATS];
    double plain_off; /* the obvious loop's time against the ride's */
    double sum;       /* of the shares in the band, of what is pedalled */
};

static void one_round(struct told *told, struct base_slice text, const char *speeds_path) {
    const struct ride_gearing none = {NULL, 0};
    struct ride_choice choices[ROAD_GEARS];
    struct ride_gearing gearing = road_gears(choices);
    struct base_arena arena;
    struct ride_route route;
    struct ride_profile p;
    struct ride_run run, free_run;
    struct ride_speeds *speeds;
    base_arena_init(&arena, 0);
    double t[WHATS + 1] = {now_ms()};
    read_track(&route, &arena, text);
    t[1] = now_ms();
    need(ride_profile_of(&p, &arena, &route) == BASE_OK);
    t[2] = now_ms();
    need(ride_simulate(&run, &arena, &road_machine, &habits, gearing, p.cells, p.n) == BASE_OK);
    t[3] = now_ms();
    need(ride_simulate(&free_run, &arena, &road_machine, &habits, none, p.cells, p.n) == BASE_OK);
    need(ride_speeds_new(&speeds, &free_run, &habits, p.cells, p.n) == BASE_OK);
    need(score_many(speeds, 1) >= 0.0);
    t[4] = now_ms();
    double sum = score_many(speeds, GEARINGS);
    t[5] = now_ms();
    double plain_s = ride_plainly(p.cells, p.n);
    t[6] = now_ms();
    told->plain_off = plain_s / free_run.time_s - 1.0;
    told->sum = sum * free_run.time_s / (free_run.time_s - free_run.mode_s[RIDE_MODE_COASTING]);
    for (int i = 0; i < WHATS; i++) {
        told->ms[i] = fmin(told->ms[i], t[i + 1] - t[i]);
    }
    write_speeds(speeds_path, &free_run, p.n);
    ride_speeds_free(speeds);
    base_arena_clear(&arena);
}

int main(int argc, char **argv) {
    char track[4096], speeds[4096];
    struct told told;
    need(argc == 2 && strlen(argv[1]) < 4000);
    strcat(strcpy(track, argv[1]), "/track.gpx");
    strcat(strcpy(speeds, argv[1]), "/speeds.txt");
    write_track(track);
    struct base_slice text = read_whole(track);
    for (int i = 0; i < WHATS; i++) {
        told.ms[i] = INFINITY;
    }
    for (int round = 0; round < ROUNDS; round++) {
        one_round(&told, text, speeds);
    }
    for (int i = 0; i < WHATS; i++) {
        printf("%s %.3f\n", names[i], told.ms[i]);
    }
    printf("plain-off %.5f\nsum %.6f\nbytes %zu\n", told.plain_off, told.sum, text.n);
    free((void *)text.at);
    return 0;
}
