/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What the smaller questions are answered with, as data: the same figures go to JSON (json.h) and to the terminal (text.h).
 *
 * A figure that can't be computed is NAN, and `open` names what it waits for. Everything is owned by the arena that was
 * passed; what points into the bike lives as long as the bike.
 */
#ifndef APP_ANSWERS_H
#define APP_ANSWERS_H

#include "app/road.h"
#include "fit/judge.h"
#include "format/use_in.h"
#include "mech/gear.h"
#include "mech/suspension.h"
#include "plan/arrange.h"
#include "plan/plan.h"
#include "plan/tolerance.h"
#include "trade/bike.h"

#define APP_OPEN_MAX 16

/* Values that an answer waits for: each a property of a subject as in fit_read (slot, FIT_FRAME, FIT_WHEEL, FIT_BIKE; of
 * the rider too FIT_BIKE). */
struct app_open {
    struct {
        uint8_t subject;
        uint16_t property;
    } at[APP_OPEN_MAX];
    size_t n;
};

/* Adds one, if it is not there yet; what is beyond the room is left out. */
void app_wait_for(struct app_open *open, unsigned subject, unsigned property);

struct app_gears {
    struct mech_gear *gears; /* rising ratio */
    double *development_m;   /* NAN each where the wheel is open */
    double *steps_percent;   /* n - 1 of them */
    size_t n;
    size_t repeats;       /* neighbours nearer than repeated_step_percent */
    size_t differ;        /* gears that differ: n - repeats */
    double range_percent; /* NAN without gears */
    double lowest_m, highest_m;
    enum base_known known; /* of the developments */
    unsigned rings;        /* how many rings */
    size_t sprockets;      /* how many sprockets */
    struct app_open open;
};
enum base_status app_gears_of(struct app_gears *out, struct base_arena *arena, const struct trade_bike *bike,
                              const struct fit_build *build) BASE_CHECKED;

struct app_angle {
    int ring, sprocket; /* teeth */
    double offset_mm;   /* ring's plane less sprocket's */
    double angle_deg;
    enum base_known known;
};

struct app_line {
    struct plan_line line;
    struct app_angle *angles; /* every ring with every sprocket, rising ratio */
    size_t n_angles;
    double axles_mm;          /* seen from above */
    double angle_per_gap_deg; /* how far a millimetre of the gap moves an angle in the middle sprocket */
    double rear_per_gap_mm;   /* how far a millimetre of the gap moves the rear line: 1 in size */
    bool gap_assumed;
    const struct plan_arrangements *arranged; /* what brings it nearer; NULL: not asked */
    struct plan_tolerances tolerances;        /* n is 0 where it was not asked */
    bool weighted;                            /* by how long each gear is used */
    struct app_open open;
};
enum base_status app_line_of(struct app_line *out, struct base_arena *arena, const struct trade_bike *bike,
                             const struct fit_build *build) BASE_CHECKED;
/* Adds to the line of a bike as it stands what brings it nearer, and how far its values can be trusted. catalogue and shop:
 * of whose parts; both NULL: sizes that occur. weights: as plan_arrange_question has them. */
enum base_status app_line_arrange(struct app_line *out, struct base_arena *arena, const struct trade_bike *bike,
                                  const struct trade_catalogue *catalogue, const struct trade_shop *shop,
                                  const double *weights) BASE_CHECKED;

/* How long each gear of a build is used, in the order of plan_arrange_question, owned by the arena; those that the use does not
 * name not at all. BASE_BAD_INPUT with a fault told, of the file, for each gear that the bike has not; NULL and BASE_OK
 * where rings or sprockets are open. BASE_NO_MEMORY. */
enum base_status app_line_weights(const double **out, struct base_arena *arena, const struct fit_build *build,
                                  const struct format_use *use, const char *file,
                                  struct base_faults *faults) BASE_CHECKED;

/* How the cage stands in a gear: from an assumed shape, so that it never decides a verdict alone. NAN: open. */
struct app_cage_gear {
    int ring, sprocket;
    double path_links;  /* pitches that the gear needs at least, not rounded */
    double cage_deg;    /* of the cage, from straight down, forward positive */
    double gap_mm;      /* tips of guide wheel and sprocket */
    double slack_links; /* pitches that hang though the cage is as far back as it goes; below 0: so many are missing */
    double ring_wrap_deg, sprocket_wrap_deg;
    double tension_n; /* of the lower run, from the spring alone */
    double ground_mm; /* from the chain on the tension wheel to the ground; NAN without a wheel too */
    double growth_links,
        longest_mm; /* of the bare loop over the travel, and where it is longest, of a bike that says how its
                                        axle goes; else NAN; so below */
    double kick_deg, anti_squat_percent; /* kick of the pedals over the whole travel, wheel held; at sag */
    double rest_deg,
        rest_slack_links;          /* with a spring behind: the cage and what hangs at rest, where the stay is short */
    struct mech_point axle, pivot; /* of the rear wheel and of the cage, where they were reckoned; x NAN else */
    enum fit_kind verdict;         /* FIT_FITS; FIT_ASK where only the assumed shape says that it does not */
};

/* One way of cutting a chain that only the axle's place keeps taut. */
struct app_taut {
    int links;
    bool half_link; /* with one in it */
    double stay_mm; /* from bottom bracket to axle, when it is taut */
};
#define APP_TAUT_MAX 3

struct app_chain {
    int ring, sprocket; /* the largest ones, teeth */
    double bare_links;  /* pitches, not rounded; NAN when open */
    int rule_links;     /* of the workshop rule; 0 when open */
    int links;          /* to cut, joining link counted; 0 when open */
    bool
        single; /* one ring, one sprocket and no derailleur: the axle keeps the chain taut, and no rule of a derailleur holds */
    struct app_taut
        taut[APP_TAUT_MAX]; /* then: the even counts next to the bare loop, and a half link between; rising */
    size_t n_taut;
    bool half_if_plain; /* nobody has seen that the ring's teeth are plain */
    bool wide_single;   /* which rule holds */
    bool suspended;     /* taken at the longest chain stay */
    bool quick_link;
    double stay_mm;                /* the chain stay that was used */
    int capacity_needed, capacity; /* teeth; capacity -1 when open */
    enum base_known known, capacity_known;
    enum base_known rule_known;     /* how it is known which rule holds and whether the rear end moves */
    struct fit_finding findings[8]; /* of chain-length, capacity, chain-sprockets, single-cage, cage-ground */
    size_t n_findings;
    enum fit_kind verdict;       /* the worst of them */
    struct app_cage_gear *gears; /* by app_cages_of; rising ratio; owned by the arena */
    size_t n_gears;
    enum trade_cage cage; /* whose shape was taken */
    struct app_open open;
};
/* Fills in the gears of an answer that app_chain_of gave: none without derailleur, rings, sprockets or chain stay.
 * BASE_NO_MEMORY. */
enum base_status app_cages_of(struct app_chain *chain, struct base_arena *arena, const struct trade_bike *bike,
                              const struct fit_build *build) BASE_CHECKED;
/* How the cage of a derailleur that hangs on the axle stands in one gear of the build with the axle elsewhere, such as along a
 * suspension's travel: for the chain of the answer. false, and nothing, where the build has no such gear. */
bool app_cage_at(struct app_cage_gear *out, const struct app_chain *chain, const struct trade_bike *bike,
                 const struct fit_build *build, const int gear[2], struct mech_point axle);
void app_chain_of(struct app_chain *out, const struct trade_bike *bike, const struct fit_build *build,
                  const struct fit_cases *cases, bool as_it_stands);

/* The rear axle from the bottom bracket, for a chain stay of this length; level where the drop is open. NAN for a stay that is
 * NAN. */
struct mech_point app_axle_of(const struct trade_bike *bike, double stay_mm);

/* The class of a derailleur's cage: as it is said, else by its capacity, else medium; and the shape that such a cage is taken
 * to have, NULL where the table has none. */
enum trade_cage app_cage_class(const struct trade_part *derailleur);
const struct trade_cage_shapes_row *app_cage_shape(enum trade_cage cage);

struct app_shift {
    double step_mm; /* of the cage a click; NAN when open, friction or electronic */
    double pitch_mm;
    double error_mm_total; /* (sprockets - 1) * (step - pitch) */
    int sprockets;
    double pull_mm, ratio;
    enum base_known known;
    struct fit_finding findings[4]; /* of shift-family and shift-steps */
    size_t n_findings;
    enum fit_kind verdict;
    struct app_open open;
};
void app_shift_of(struct app_shift *out, const struct trade_bike *bike, const struct fit_build *build,
                  const struct fit_cases *cases, bool as_it_stands);

/* The words of the documents for an outcome: fits, adapter, drawback, measure, clash. A conditional one is `measure`. */
const char *app_verdict_name(const struct fit_finding *finding);

/* Slots whose part goes whatever it fits, since it is worn, seized or damaged; bit set. */
uint32_t app_goes(const struct trade_bike *bike);

/* The code of the sentence that tells that a plan has no way, when no other wish opens one. */
const char *app_no_way(const struct plan *plan);

/* What an answer about a plan shows. Zeroed before it is made. */
struct app_plan_shown {
    const struct plan *plan;
    const char *shop_label;      /* for the title block */
    const struct app_road *road; /* that the ways are scored on; NULL: none */
    struct plan_kept_rings kept;
    struct plan_relief reliefs[5]; /* when nothing fits */
    size_t n_reliefs;
    bool why; /* every joint of every pick */
};
/* Plans, with the ways of keeping the rings and, when nothing fits, what opens a way. *plan is the caller's: plan_free; also
 * when it fails. BASE_NO_MEMORY. */
enum base_status app_make_plan(struct app_plan_shown *shown, struct plan **plan, const struct plan_question *question,
                               bool why) BASE_CHECKED;

#endif
