/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Bare geometry as answers: a chain round wheels, a rear suspension. Data first; json_geometry.c and text_geometry.c show
 * the same figures. An answer that is no has a reason, a code of the messages, and what it is about.
 */
#ifndef APP_GEOMETRY_H
#define APP_GEOMETRY_H

#include "app/text.h"
#include "format/geometry_in.h"

struct app_path {
    const struct format_wheels *wheels; /* borrowed */
    const char *reason;                 /* NULL: the loop is there */
    size_t wheel;                       /* the reason's, from 0; `path.no-tangent` is about the next one, too */
    bool toothed;                       /* every wheel has teeth, so that the links can be counted */
    struct mech_loop loop;
    double polygon_links; /* what a real chain may need more or less; only where toothed */
};

/* The loop round the wheels. Beside what loop.h refuses, more than two wheels must not make a figure of eight: a chain
 * can't cross itself, and a wheel that it would have to curl round hangs free of it. BASE_BAD_INPUT: wheels out of range. */
enum base_status app_path_of(struct app_path *out, const struct format_wheels *wheels) BASE_CHECKED;

struct app_suspension_row {
    struct mech_suspension_state state;
    struct mech_suspension_chain chain;
    double loop_links; /* pitches of the bare loop */
};

/* What the suspension does to one gear. */
struct app_suspension_gear {
    struct mech_suspension_drive drive;
    struct app_suspension_row rest, sag, full; /* full: at the travel farthest from rest */
    struct app_suspension_row *rows;           /* one for each travel, in the order given; owned by the arena */
    double longest_mm, longest_links;          /* where its loop is longest, from the lowest travel (or rest) to the
                                                  highest */
};

struct app_suspension {
    const struct format_suspension *given; /* borrowed */
    const char *reason;                    /* NULL: there are rows */
    double reason_mm;                      /* the travel that it is about */
    bool moves;                            /* some travel is not 0 */
    double sag_mm;                         /* where the rider's weight holds it */
    enum base_known sag_known;             /* assumed where it was not given */
    double longest_mm, longest_stay_mm;    /* over the same travels: where the stay is longest */
    struct app_suspension_gear gears[2];   /* the one of now and, where it was asked for, the new one */
    size_t n_gears;
};

/* The suspension at every travel that was given. BASE_BAD_INPUT: out of range; BASE_NO_MEMORY. */
enum base_status app_suspension_of(struct app_suspension *out, struct base_arena *arena,
                                   const struct format_suspension *given) BASE_CHECKED;

/* The same of a bike that says how its rear axle goes, over its whole travel: a gear of now and, unless new_ring is 0, the one
 * that takes its place. Lengths that nobody read are taken as usual, and sag_known is BASE_ASSUMED then. BASE_NO: it does
 * not say so. Errors as above. */
enum base_status app_suspension_of_bike(struct app_suspension *out, struct base_arena *arena,
                                        const struct trade_bike *bike, const int gear[2],
                                        const int new_gear[2]) BASE_CHECKED;

/* The reason in words. */
void app_path_reason(struct base_buffer *out, const struct app_path *path);
void app_suspension_reason(struct base_buffer *out, const struct app_suspension *suspension);

/* As JSON documents: path.schema.json, suspension.schema.json. */
void app_json_path_answer(struct base_buffer *out, const struct app_path *path);
void app_json_suspension(struct base_buffer *out, const struct app_suspension *suspension);

/* What the second gear does to how the bike pedals, beside the first: sentences for the rider. */
void app_pedalling_sentences(struct base_buffer *text, const struct app_suspension_gear *now,
                             const struct app_suspension_gear *then, double sag_mm, enum base_known sag_known);

/* As a person reads them. */
void app_text_path(struct base_buffer *out, const struct app_style *style, const struct app_path *path);
void app_text_suspension(struct base_buffer *out, const struct app_style *style,
                         const struct app_suspension *suspension);

#endif
