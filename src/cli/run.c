/* SPDX-License-Identifier: Apache-2.0 */
/*
 * From argv to a command and back to an exit status.
 */
#define _POSIX_C_SOURCE 200809L

#include "cli/command.h"

#include "base/date.h"
#include "base/number.h"

#include <langinfo.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* The options, once: how they are written, whether a value follows, what the help line says. */
struct option {
    uint64_t bit;
    const char *name;
    const char *value;   /* what the help line calls it; NULL: a flag */
    const char *allowed; /* what it may be; NULL: any text */
};
static const struct option options[] = {
    {CLI_CATALOGUE, "--catalogue", "FOLDER", NULL},
    {CLI_MAY_CATALOGUE, "--catalogue", "FOLDER", NULL},
    {CLI_WISH, "--wish", "FILE", NULL},
    {CLI_BIKE, "--bike", "FILE", NULL},
    {CLI_PART, "--part", "ID", NULL},
    {CLI_WITH, "--with", "ID", NULL},
    {CLI_BATCH, "--batch", "FILE", NULL},
    {CLI_WAYS, "--ways", "N", "a whole number from 1 to 1000000"},
    {CLI_MEMORY, "--memory", "MIB", "a whole number from 1 to 1048576"},
    {CLI_LIMIT_S, "--limit-s", "SECONDS", "a number above 0, up to 86400"},
    {CLI_GRADIENT, "--gradient-percent", "G", "a number from 0 to 60"},
    {CLI_CADENCE, "--cadence-rpm", "N", "a number from 20 to 200"},
    {CLI_ROUTE, "--route", "FILE", NULL},
    {CLI_CLIMB, "--climb", "LIST", NULL},
    {CLI_RIDER, "--rider", "FILE", NULL},
    {CLI_GEAR_USE, "--gear-use", "FILE", NULL},
    {CLI_RULER, "--ruler", "MM", "a length above 0"},
    {CLI_GAUGE, "--gauge", "PERCENT", "a number"},
    {CLI_NM, "--nm", "NM", "a number above 0, up to 200"},
    {CLI_DATE, "--date", "DAY", "a day from 1970-01-01 to 2999-12-31"},
    {CLI_WAY, "--way", "LETTERS", NULL},
    {CLI_DISCOUNT, "--discount-percent", "D", "0 to 100, with at most three decimals"},
    {CLI_CALL_FIRST, "--call-first", "AMOUNT", NULL},
    {CLI_OLD_PARTS, "--old-parts", "WHAT", "back or scrap"},
    {CLI_JOB, "--job", "FOLDER", NULL},
    {CLI_AT, "--at", "TIME", "a day and a time, such as 2026-05-01T09:30"},
    {CLI_BY, "--by", "NAME", NULL},
    {CLI_REASON, "--reason", "TEXT", NULL},
    {CLI_AFTER, "--after", "N", "a whole number from 1 to 9999"},
    {CLI_CSV, "--csv", NULL, NULL},
    {CLI_WHY, "--why", NULL, NULL},
    {CLI_LAYOUT, "--layout", "LAYOUT", "narrow or wide"},
    {CLI_MODE, "--mode", "MODE", "now, way or both"},
    {CLI_GROUND, "--ground", "GROUND", "light, dark or print"},
    {CLI_SIZE, "--size", "SIZE", "a4 or letter"},
    {CLI_OUT, "--out", "FILE", NULL},
    {CLI_SAVE_CASE, "--save-case", "FOLDER", NULL},
    {CLI_JSON, "--json", NULL, NULL},
};
#define OPTIONS (sizeof options / sizeof options[0])

/* Options without which a command can't answer. */
#define NEEDED CLI_CATALOGUE
#define WAYS_MOST 1000000
#define MEMORY_MOST 1048576
#define RECORD_MOST 9999
#define SECONDS_MOST 86400.0
#define GRADIENT_LEAST 0.0
#define GRADIENT_MOST 60.0
#define CADENCE_LEAST 20.0
#define CADENCE_MOST 200.0
#define TORQUE_MOST_NM 200.0 /* nothing on a bicycle takes more */

void cli_usage(struct base_buffer *out, const struct cli_command *command, const char *between) {
    if (command->argument) {
        base_buffer_text(out, command->optional ? " [" : " ");
        base_buffer_text(out, command->argument);
        base_buffer_text(out, command->optional ? "]" : "");
    }
    if (command->then) {
        base_buffer_char(out, ' ');
        base_buffer_text(out, command->then);
    }
    if (command->more) {
        base_buffer_text(out, " [");
        base_buffer_text(out, command->more);
        base_buffer_text(out, " ...]");
    }
    for (size_t i = 0; i < OPTIONS; i++) {
        if (!(command->options & options[i].bit)) {
            continue;
        }
        bool needed = (options[i].bit & NEEDED) != 0;
        base_buffer_text(out, between);
        base_buffer_text(out, needed ? "" : "[");
        base_buffer_text(out, options[i].name);
        if (options[i].value) {
            base_buffer_char(out, ' ');
            base_buffer_text(out, options[i].value);
        }
        base_buffer_text(out, needed ? "" : "]");
    }
}

static int complain(const char *what, const char *which, const struct cli_command *command) {
    struct base_buffer line;
    base_buffer_init(&line, 0);
    base_buffer_text(&line, "chainwright: ");
    base_buffer_text(&line, what);
    base_buffer_text(&line, which);
    if (command) {
        base_buffer_text(&line, "\nuse: chainwright ");
        base_buffer_text(&line, command->name);
        cli_usage(&line, command, " ");
    } else {
        base_buffer_text(&line, "\n`chainwright help` lists the commands");
    }
    base_buffer_char(&line, '\n');
    fwrite(line.at ? line.at : "", 1, line.n, stderr);
    base_buffer_clear(&line);
    return APP_USAGE;
}

static int complain_of_value(const struct option *option, const char *value, const struct cli_command *command) {
    struct base_buffer what;
    base_buffer_init(&what, 0);
    base_buffer_text(&what, option->name);
    base_buffer_text(&what, value ? ": " : "");
    base_buffer_text(&what, value ? value : "");
    base_buffer_text(&what, option->allowed ? "; allowed is " : "");
    base_buffer_text(&what, option->allowed ? option->allowed : "");
    int status = complain("a value is missing or not allowed for ", what.at ? what.at : option->name, command);
    base_buffer_clear(&what);
    return status;
}

static const struct cli_command *find_command(const char *name) {
    if (strcmp(name, "--help") == 0 || strcmp(name, "-h") == 0) {
        return &cli_help;
    }
    if (strcmp(name, "--version") == 0) {
        return &cli_version;
    }
    for (size_t i = 0; i < cli_commands_n; i++) {
        if (strcmp(cli_commands[i]->name, name) == 0) {
            return cli_commands[i];
        }
    }
    return NULL;
}

/* The command whose name is nearest to this; NULL when none is near. */
static const char *nearest_command(const char *name) {
    const char *names[64];
    size_t n = 0;
    for (; n < cli_commands_n && n < sizeof names / sizeof names[0]; n++) {
        names[n] = cli_commands[n]->name;
    }
    int nearest = base_text_nearest(base_slice_of(name), names, n);
    return nearest >= 0 ? names[nearest] : NULL;
}

static int complain_of_command(const char *name) {
    const char *nearest = nearest_command(name);
    struct base_buffer which;
    base_buffer_init(&which, 0);
    base_buffer_text(&which, name);
    base_buffer_text(&which, nearest ? "; the nearest is " : "");
    base_buffer_text(&which, nearest ? nearest : "");
    int status = complain("there is no command ", which.at ? which.at : name, NULL);
    base_buffer_clear(&which);
    return status;
}

/* 'COMMAND --help' is 'help COMMAND'. */
static bool asks_for_help(int argc, char **argv) {
    bool asks = false;
    for (int i = 2; i < argc; i++) {
        asks = asks || strcmp(argv[i], "--help") == 0 || strcmp(argv[i], "-h") == 0;
    }
    return asks;
}

static bool take_number(unsigned *out, const char *value, int64_t most) {
    int64_t number;
    if (base_integer_read(&number, base_slice_of(value), 1, most) != BASE_OK) {
        return false;
    }
    *out = (unsigned)number;
    return true;
}

static bool take_decimal(double *out, const char *value) {
    return base_number_read(out, base_slice_of(value)) == BASE_OK;
}

static bool take_seconds(double *out, const char *value) {
    double seconds;
    if (base_number_read(&seconds, base_slice_of(value)) != BASE_OK || !(seconds > 0) || seconds > SECONDS_MOST) {
        return false;
    }
    *out = seconds;
    return true;
}

/* A number within low..high, both included. */
static bool take_within(double *out, const char *value, double low, double high) {
    double number;
    if (base_number_read(&number, base_slice_of(value)) != BASE_OK || number < low || number > high) {
        return false;
    }
    *out = number;
    return true;
}

/* A day far enough from the calendar's end that all that follows from it is one, too. */
static bool is_day(const char *value) {
    int32_t day, last = BASE_DATE_LAST;
    return base_date_read(&last, base_slice_of("2999-12-31")) && base_date_read(&day, base_slice_of(value)) &&
           day >= 0 && day <= last;
}

/* Thousandths of a percent, exactly. */
static bool take_percent(int32_t *out, const char *value) {
    int64_t thousandths;
    if (base_minor_read(&thousandths, base_slice_of(value), 3) != BASE_OK || thousandths < 0 || thousandths > 100000) {
        return false;
    }
    *out = (int32_t)thousandths;
    return true;
}

/* One of two or three words? */
static bool is_one_of(const char *value, const char *a, const char *b, const char *c) {
    return strcmp(value, a) == 0 || strcmp(value, b) == 0 || (c && strcmp(value, c) == 0);
}

/* Where the text of an option goes; NULL for one that is no text. */
static const char **text_of(struct app_request *request, uint64_t bit) {
    const struct {
        uint64_t bits;
        const char **text;
    } texts[] = {
        {CLI_CATALOGUE | CLI_MAY_CATALOGUE, &request->catalogue},
        {CLI_WISH, &request->wish},
        {CLI_BIKE, &request->bike},
        {CLI_SAVE_CASE, &request->save_case},
        {CLI_BATCH, &request->batch},
        {CLI_PART, &request->part},
        {CLI_WITH, &request->with},
        {CLI_ROUTE, &request->route},
        {CLI_CLIMB, &request->climb},
        {CLI_RIDER, &request->rider},
        {CLI_GEAR_USE, &request->gear_use},
        {CLI_WAY, &request->way},
        {CLI_DATE, &request->date},
        {CLI_CALL_FIRST, &request->call_first},
        {CLI_OLD_PARTS, &request->old_parts},
        {CLI_JOB, &request->job},
        {CLI_AT, &request->at},
        {CLI_BY, &request->by},
        {CLI_REASON, &request->reason},
        {CLI_SIZE, &request->size},
        {CLI_LAYOUT, &request->layout},
        {CLI_MODE, &request->mode},
        {CLI_GROUND, &request->ground},
        {CLI_OUT, &request->out},
    };
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        if (texts[i].bits & bit) {
            return texts[i].text;
        }
    }
    return NULL;
}

/* Takes one option's value; false when it is not allowed. */
static bool take(struct app_request *request, uint64_t bit, const char *value) {
    const char **text = text_of(request, bit);
    if (text) {
        *text = value;
    }
    switch (bit) {
    case CLI_JSON:
        request->json = true;
        return true;
    case CLI_WHY:
        request->why = true;
        return true;
    case CLI_CSV:
        request->csv = true;
        return true;
    case CLI_WAYS:
        return take_number(&request->ways, value, WAYS_MOST);
    case CLI_MEMORY:
        return take_number(&request->memory_mib, value, MEMORY_MOST);
    case CLI_AFTER:
        return take_number(&request->after, value, RECORD_MOST);
    case CLI_GRADIENT:
        return take_within(&request->gradient_percent, value, GRADIENT_LEAST, GRADIENT_MOST);
    case CLI_CADENCE:
        return take_within(&request->cadence_rpm, value, CADENCE_LEAST, CADENCE_MOST);
    case CLI_LIMIT_S:
        return take_seconds(&request->limit_s, value);
    case CLI_RULER:
        return take_decimal(&request->ruler_mm, value) && request->ruler_mm > 0;
    case CLI_NM:
        return take_decimal(&request->maker_nm, value) && request->maker_nm > 0 && request->maker_nm <= TORQUE_MOST_NM;
    case CLI_LAYOUT:
        return is_one_of(value, "narrow", "wide", NULL);
    case CLI_MODE:
        return is_one_of(value, "now", "way", "both");
    case CLI_GROUND:
        return is_one_of(value, "light", "dark", "print");
    case CLI_SIZE:
        return is_one_of(value, "a4", "letter", NULL);
    case CLI_DISCOUNT:
        return take_percent(&request->discount_thousandths, value);
    case CLI_GAUGE:
        request->has_gauge = take_decimal(&request->gauge_percent, value);
        return request->has_gauge;
    case CLI_DATE:
        return is_day(value);
    case CLI_AT:
        return app_is_time(value);
    case CLI_OLD_PARTS:
        return strcmp(value, "back") == 0 || strcmp(value, "scrap") == 0;
    default:
        return text != NULL;
    }
}

static const struct option *find_option(const char *word, const char **value, uint64_t allowed) {
    const char *equals = strchr(word, '=');
    size_t n = equals ? (size_t)(equals - word) : strlen(word);
    for (size_t i = 0; i < OPTIONS; i++) {
        if ((allowed & options[i].bit) && strlen(options[i].name) == n && memcmp(options[i].name, word, n) == 0) {
            *value = equals ? equals + 1 : NULL;
            return &options[i];
        }
    }
    return NULL;
}

static bool is_stdin(const char *path) { return path && strcmp(path, "-") == 0; }

/* A word behind the argument, where the command takes more; false when it does not, or there are too many. */
static bool add_word(struct app_request *request, const char *word, const struct cli_command *command) {
    if (!command->more || request->n_words == APP_WORDS_MAX) {
        return false;
    }
    request->words[request->n_words++] = word;
    return true;
}

/* The next argument; false where there is none more. */
static bool take_argument(struct app_request *request, const char **argument, const struct cli_command *command,
                          const char *word) {
    const char **place = *argument && command->then ? &request->bike : argument;
    if (!command->argument || *place) {
        return command->argument && add_word(request, word, command);
    }
    *place = word;
    return true;
}

/* Reads what stands behind the command's name. 0, or APP_USAGE with a line on standard error. */
static int read_arguments(struct app_request *request, const char **argument, const struct cli_command *command,
                          int argc, char **argv) {
    for (int i = 2; i < argc; i++) {
        const char *value = NULL;
        if (argv[i][0] != '-' || argv[i][1] == '\0') {
            if (!take_argument(request, argument, command, argv[i])) {
                return complain("one argument too many: ", argv[i], command);
            }
            continue;
        }
        const struct option *option = find_option(argv[i], &value, command->options);
        if (!option || (value && !option->value)) {
            return complain("this command has no option ", argv[i], command);
        }
        if (option->value && !value && ++i < argc) {
            value = argv[i];
        }
        if ((option->value && !value) || !take(request, option->bit, value)) {
            return complain_of_value(option, value, command);
        }
    }
    if (command->argument && !*argument && !command->optional && !request->batch) {
        return complain("missing: ", command->argument, command);
    }
    if (command->then && !request->bike) {
        return complain("missing: ", command->then, command);
    }
    if (request->batch && (*argument || request->save_case)) {
        return complain("does not go with --batch: ", *argument ? *argument : "--save-case", command);
    }
    if ((command->options & CLI_CATALOGUE) && !request->catalogue) {
        return complain("missing: ", "--catalogue FOLDER", command);
    }
    if ((command->options & CLI_GRADIENT) && isnan(request->gradient_percent) && !request->climb) {
        return complain("missing: ", "--gradient-percent G or --climb LIST", command);
    }
    if (!isnan(request->gradient_percent) && request->climb) {
        return complain("one or the other: ", "--gradient-percent G or --climb LIST", command);
    }
    if ((command->options & CLI_NEEDS_WAY) && !request->route && !request->climb) {
        return complain("missing: ", "--route FILE or --climb LIST", command);
    }
    if (request->route && request->climb) {
        return complain("one or the other: ", "--route FILE or --climb LIST", command);
    }
    if (request->wish && (command->options & CLI_MAY_CATALOGUE) && !request->catalogue) {
        return complain("missing: ", "--catalogue FOLDER", command);
    }
    if (request->maker_nm > 0 && !*argument) {
        return complain("missing: ", "NAME, of what the maker's figure is for", command);
    }
    if (request->with && !request->part) {
        return complain("missing: ", "--part ID", command);
    }
    if (request->has_gauge && request->ruler_mm > 0) {
        return complain("one reading is enough: ", "--ruler or --gauge", command);
    }
    if (is_stdin(*argument) + is_stdin(request->bike) + is_stdin(request->batch) + is_stdin(request->wish) +
            is_stdin(request->rider) + is_stdin(request->route) + is_stdin(request->gear_use) >
        1) {
        return complain("standard input is one file: ", "only one of them can be -", command);
    }
    return 0;
}

/* Colour only on a terminal, and not where NO_COLOR is set; plain characters where the locale is not UTF-8. */
static struct app_style style_here(void) {
    const char *no_colour = getenv("NO_COLOR");
    struct app_style style;
    setlocale(LC_CTYPE, "");
    style.plain = isatty(STDOUT_FILENO) && strcmp(nl_langinfo(CODESET), "UTF-8") != 0;
    style.colour = isatty(STDOUT_FILENO) && (!no_colour || !*no_colour);
    return style;
}

static int print(const struct app_reply *reply) {
    bool whole = fwrite(reply->out.at ? reply->out.at : "", 1, reply->out.n, stdout) == reply->out.n;
    whole = fflush(stdout) == 0 && whole;
    fwrite(reply->err.at ? reply->err.at : "", 1, reply->err.n, stderr);
    if (!whole || reply->out.status != BASE_OK || reply->err.status != BASE_OK) {
        fputs("chainwright: the answer could not be written whole\n", stderr);
        return APP_FAILED;
    }
    return (int)reply->status;
}

int cli_run(int argc, char **argv) {
    struct app_request request = {
        .ways = APP_WAYS_DEFAULT, .gradient_percent = (double)NAN, .cadence_rpm = (double)NAN};
    struct app_reply reply;
    const char *argument = NULL;
    const struct cli_command *command = argc > 1 ? find_command(argv[1]) : &cli_help;
    if (!command) {
        return complain_of_command(argv[1]);
    }
    if (asks_for_help(argc, argv)) {
        argument = command->name;
        command = &cli_help;
    } else if (argc > 1 && read_arguments(&request, &argument, command, argc, argv) != 0) {
        return APP_USAGE;
    }
    request.command = command->name;
    request.style = style_here();
    app_reply_init(&reply);
    command->run(&reply, &cli_world, &request, argument);
    int status = print(&reply);
    app_reply_clear(&reply);
    return status;
}
