/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a user can do: one function each, from a request to a reply. They never fail otherwise than by the reply's exit
 * status and what stands on `err`.
 */
#ifndef APP_COMMANDS_H
#define APP_COMMANDS_H

#include "app/text.h"
#include "app/world.h"

enum app_exit {
    APP_DONE = 0,
    APP_NO = 1,        /* the answer is no: a clash, no build, turned down */
    APP_USAGE = 2,     /* wrong usage */
    APP_BAD_INPUT = 3, /* what was read is not allowed; a line for each fault on err */
    APP_FAILED = 4     /* storage or system */
};

#define APP_WAYS_DEFAULT 100
#define APP_WORDS_MAX 63 /* behind the first: 64 jobs */

/* What the user asked. Paths as given; "-" is standard input, for one of them at most. NULL: not given. */
struct app_request {
    const char *command;   /* its name, as a saved case says it */
    const char *bike;      /* of path and suspension: their file */
    const char *catalogue; /* folder with shop.json and one CSV for each kind */
    const char *wish;
    const char *rider;       /* of climb, plan and ride: a file of the rider, in place of the bike's */
    const char *gear_use;    /* of line: a file that says how long each gear is used */
    const char *batch;       /* of plan: a file of many bikes and wishes, instead of one bike */
    const char *route;       /* of ride, plan and why-not: a track or a route as GPX */
    const char *climb;       /* in place of a route: '14 % for 600 m, 8 % for 1.2 km' */
    const char *part, *with; /* why-not: ids of parts */
    const char *subject;     /* of explain: a name; of parts: a kind; of check-data: a folder */
    const char *save_case;   /* folder of its own to write all that the run depended on to: case.json (what was asked),
                              bike.json, wish.json, rider.json, route.gpx, shop/, and expected.json, the answer,
                              where it is JSON */
    const char *figure;      /* of draw: its name, or all */
    const char *layout;      /* of draw: narrow or wide; NULL: narrow; so below */
    const char *mode;        /* now, way or both; NULL: both where there is a plan */
    const char *ground;      /* light, dark or print */
    const char *out;   /* of draw: a file to write, .svg or .png, or a folder for all; NULL: SVG to standard output */
    const char *paper; /* of paper: its name; NULL: no paper is asked for */
    const char *size;  /* of paper: a4 or letter; NULL: a4 */
    double ruler_mm;   /* wear: what the rule reads over 24 pitches; 0: not given */
    double gauge_percent; /* wear: what a gauge reads; only where has_gauge */
    bool has_gauge;
    double maker_nm; /* torque: what the part's maker says; 0: not given */
    bool json;
    bool why;                /* plan: every joint of every way */
    unsigned ways;           /* plan: how many ways at most, picks first */
    double gradient_percent; /* climb: of the hill; NAN: not given */
    double cadence_rpm;      /* climb: that is wanted on it; NAN: the low end of the rider's band */
    double limit_s;          /* plan: how long a search may take, s; 0: as long as it takes */
    unsigned memory_mib;     /* plan: the most memory that a search may take; 0: what the planner takes by itself */
    const char *date;        /* quote: the day, as 2026-05-01; NULL: today */
    const char *
        way; /* of work and draw: the letter of a way of the plan; NULL: the first. Of quote: letters, as A,C; NULL: its own choice */
    const char *call_first;       /* quote: an amount in the shop's currency, in place of the shop's */
    const char *old_parts;        /* quote: "back", "scrap"; NULL: nobody was asked */
    int32_t discount_thousandths; /* quote: of a percent */
    const char *job;              /* quote: a folder of its own for the job; record, handover: that folder */
    const char *words
        [APP_WORDS_MAX]; /* what stands behind the argument: of record an entry, of buy-list, also on paper, more jobs */
    size_t n_words;
    const char *at, *by, *reason; /* record: when, as 2026-05-01T09:30 (NULL: now), who, why */
    unsigned after;               /* record: the number of the last entry that the writer has seen; 0: any */
    bool csv;                     /* buy-list: as CSV */
    struct app_style style;
};

struct app_reply {
    struct base_buffer out; /* standard output */
    struct base_buffer err; /* standard error */
    enum app_exit status;
};

/* An empty reply that says APP_DONE, and the end of its buffers. */
void app_reply_init(struct app_reply *out);
void app_reply_clear(struct app_reply *reply);

/* Each fills the reply from what the request names; a bike that is turned down is answered with APP_NO and the reason. */

/* Gears of request->bike as it stands: development, steps, repeats. */
void app_gears(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* Its chain line: front, rear, window, error, angles, what brings it nearer. */
void app_line(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* Its chain: pitches to cut, and what the cage takes up. APP_NO on a clash. */
void app_chain(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* Its indexing: a click against a sprocket. APP_NO on a clash. */
void app_shift(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* Every joint of it as it stands. APP_NO on a clash. */
void app_fit(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* The hill of request->gradient_percent in each of its gears, and the gear that a cadence on it takes. */
void app_climb(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* What of chain, sprockets and rings is worn, and what may stay under a new chain. The request's reading, by rule or gauge,
 * stands over the bike's own. APP_NO when the chain goes; APP_USAGE for a reading that can't be. */
void app_wear(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* The length of a chain round the wheels of the file request->bike. APP_NO, with the reason, when there is no such path. */
void app_path(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* What the rear suspension of the file request->bike does to chain and pedals. APP_NO as above. */
void app_suspension(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* Every way to convert request->bike from request->catalogue under request->wish (NULL: the default wish) that nothing
 * beats. APP_NO when there is none. */
void app_plan(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* Up to three ways of a plan side by side, with what the customer pays for each, and keeping the rings beside them. APP_NO when
 * there is no way; APP_USAGE for a way that the plan has not, or an amount that is none. */
void app_quote(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* What was done on request->job; with words, adds the entry that they make up. APP_NO, with the reason, when the record does not
 * take it: another was written meanwhile (request->after), a value outside its limits without a reason, a part that does not
 * fit. */
void app_record(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* What request->job and the jobs of the words need, by supplier, from request->catalogue, the list of today. */
void app_buy_list(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* The same of the way request->way of the plan that app_plan makes of request->bike; only as the paper request->paper. */
void app_buy_way(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* What was fitted on request->job and how, for who rides it. */
void app_handover(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* What its gears make of request->route: where they do not do, how often they are shifted, where the energy goes; with
 * request->catalogue the picks of a plan beside them. APP_BAD_INPUT for a route that can't be read or has no heights. */
void app_ride(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* The figure request->figure of request->bike and, with request->catalogue, of a way of its plan, as SVG or PNG. APP_NO: it waits
 * for something open, or there is no way; APP_USAGE for a figure or a way that there is not. */
void app_draw(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* The paper request->paper, as PDF or HTML (or CSV) by the name of request->out: the answer of the command from the same request,
 * printed; without a catalogue request->bike is the folder of a job. APP_USAGE for a paper that there is not. */
void app_paper(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* A plan for each line of request->batch, one JSON object a line in the same order, written as they are done. A line is an object
 * with `bike` and, optional, `wish`; request->wish holds for those without. APP_BAD_INPUT when some line had faults: they stand
 * in its place, and the rest is done. */
void app_batch(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* Why no way holds request->part, or it and request->with together; or, without a part, why there is no way. APP_NO when it
 * is so; APP_USAGE when the catalogue has no such part. */
void app_why_not(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* The bench sheet of the way request->way of the plan that app_plan makes; without a catalogue request->bike is the folder of a
 * job, and the way is the one that was agreed, swaps counted. APP_NO when it has none; APP_USAGE for a letter that
 * it has not. */
void app_work(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* All that is known of that way, with every joint, every value and the sources; only as the paper request->paper. */
void app_report(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* The parts of request->catalogue, of the kind request->subject or of all. */
void app_parts(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* How tight request->subject is, or everything that there is in the table of torques. APP_USAGE for a name that it has not. */
void app_torques(struct app_reply *reply, const struct app_request *request);
/* What request->subject means. APP_USAGE when nothing is called so. */
void app_explain(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* Reads request->catalogue, and a bike and a wish where they are given, and tells every fault. */
void app_check_data(struct app_reply *reply, const struct app_world *world, const struct app_request *request);
/* Is it a time as request->at has it? */
bool app_is_time(const char *text);
void app_version(struct app_reply *reply, const struct app_request *request);

#endif
