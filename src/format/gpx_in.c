/* SPDX-License-Identifier: Apache-2.0 */
#include "format/gpx_in.h"

#include "base/number.h"
#include "format/moment.h"
#include "format/place.h"

#include <expat.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define TEXT_MOST 64 /* bytes of a height or a time; no real one is longer */
#define PREFIX_MOST 32
#define ONLY_GPX "a file that begins with <gpx>: a track or a route, exported as GPX"

/* Where in the file the reader is: the elements that it follows, one in another. */
enum within { IN_FILE, IN_GPX, IN_TRACK, IN_SEGMENT, IN_ROUTE, IN_POINT, IN_HEIGHT, IN_TIME };

struct format_gpx {
    XML_Parser parser;
    struct format_source source;
    struct base_arena *arena;
    struct ride_route *route;
    size_t before; /* faults that were there already */
    size_t bytes;
    enum base_status status;  /* BASE_OK while there is use in going on */
    enum within in, point_in; /* point_in: what the point in hand stands in */
    unsigned passed_over;     /* elements that are open and nobody follows */
    bool track;               /* a track was seen: planned routes no longer count */
    bool counts;              /* the point in hand does */
    struct ride_fix fix;
    char prefix[PREFIX_MOST]; /* of the names of GPX, colon included */
    size_t prefix_n;
    char text[TEXT_MOST];
    size_t text_n;
    bool text_long;
};

/* --- faults -------------------------------------------------------------------------------------------------------- */

/* A fault where the parser stands. */
static void tell(struct format_gpx *gpx, const char *found, const char *allowed) {
    format_fault_line(&gpx->source, (uint32_t)XML_GetCurrentLineNumber(gpx->parser),
                      (uint32_t)XML_GetCurrentColumnNumber(gpx->parser) + 1, found, allowed);
}

static void stop(struct format_gpx *gpx, enum base_status status) {
    gpx->status = status;
    (void)XML_StopParser(gpx->parser, XML_FALSE);
}

/* A fault of a value, in quotes. */
static void tell_value(struct format_gpx *gpx, const char *name, struct base_slice value, const char *allowed) {
    struct base_buffer found;
    base_buffer_init(&found, 0);
    base_buffer_text(&found, name);
    base_buffer_text(&found, " \"");
    base_buffer_slice(&found, value);
    base_buffer_char(&found, '"');
    tell(gpx, format_text(&found), allowed);
    base_buffer_clear(&found);
}

static void tell_xml(struct format_gpx *gpx, enum XML_Error error) {
    switch (error) {
    case XML_ERROR_NO_MEMORY:
        gpx->status = BASE_NO_MEMORY;
        return;
    case XML_ERROR_NO_ELEMENTS:
    case XML_ERROR_UNCLOSED_TOKEN:
    case XML_ERROR_PARTIAL_CHAR:
    case XML_ERROR_UNCLOSED_CDATA_SECTION:
        if (gpx->bytes == 0) {
            format_fault_line(&gpx->source, 0, 0, "an empty file", ONLY_GPX);
            break;
        }
        tell(gpx, "the end of the file", "the rest of the track, up to </gpx>: copy or export the file again");
        break;
    case XML_ERROR_TAG_MISMATCH:
        tell(gpx, "a closing tag that does not belong to the last one opened",
             "well-formed XML: export the file again");
        break;
    case XML_ERROR_UNKNOWN_ENCODING:
    case XML_ERROR_INCORRECT_ENCODING:
        tell(gpx, "an unknown encoding", "UTF-8, UTF-16 or ISO-8859-1: export the file again");
        break;
    default:
        tell(gpx, gpx->in == IN_FILE ? "something else" : "what XML does not allow",
             gpx->in == IN_FILE ? ONLY_GPX : "well-formed XML: export the file again");
        break;
    }
    gpx->status = BASE_BAD_INPUT;
}

/* --- values -------------------------------------------------------------------------------------------------------- */

static bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; }

static struct base_slice trimmed(const char *at, size_t n) {
    while (n > 0 && is_blank(at[n - 1])) {
        n--;
    }
    while (n > 0 && is_blank(at[0])) {
        at++;
        n--;
    }
    return (struct base_slice){at, n};
}

/* A decimal number as XML Schema has it: also with a plus, and with no digit on one side of the point. */
static bool read_decimal(double *out, struct base_slice text) {
    char plain[TEXT_MOST + 2];
    size_t n = 0;
    struct base_slice rest = text;
    if (rest.n > 0 && (rest.at[0] == '+' || rest.at[0] == '-')) {
        if (rest.at[0] == '-') {
            plain[n++] = '-';
        }
        rest.at++;
        rest.n--;
    }
    if (rest.n == 0 || rest.n > TEXT_MOST - 1 || rest.at[0] == '-') {
        return false;
    }
    if (rest.at[0] == '.') {
        plain[n++] = '0';
    }
    memcpy(plain + n, rest.at, rest.n);
    n += rest.n;
    if (n > 1 && plain[n - 1] == '.') {
        n--;
    }
    return base_number_read(out, (struct base_slice){plain, n}) == BASE_OK;
}

static bool read_angle(double *out, struct format_gpx *gpx, const char *name, const char *text, double most,
                       const char *allowed) {
    if (!text) {
        tell(gpx, "a point without its place", allowed);
        return false;
    }
    struct base_slice value = trimmed(text, strlen(text));
    if (!read_decimal(out, value) || fabs(*out) > most) {
        tell_value(gpx, name, value, allowed);
        return false;
    }
    return true;
}

/* --- elements ------------------------------------------------------------------------------------------------------ */

/* A name behind its prefix; what stands before it, colon included, is *prefix_n bytes long. */
static const char *local_name(size_t *prefix_n, const char *name) {
    const char *colon = strchr(name, ':');
    *prefix_n = colon ? (size_t)(colon + 1 - name) : 0;
    return name + *prefix_n;
}

/* The name of an element of GPX: one with the prefix that the root has, mostly none; NULL for another's. */
static const char *gpx_name(const struct format_gpx *gpx, const char *name) {
    return gpx->prefix_n == 0 || strncmp(name, gpx->prefix, gpx->prefix_n) == 0 ? name + gpx->prefix_n : NULL;
}

static const char *attribute(const char **attributes, const char *name) {
    for (size_t i = 0; attributes[i]; i += 2) {
        if (strcmp(attributes[i], name) == 0) {
            return attributes[i + 1];
        }
    }
    return NULL;
}

/* What stands within what; IN_FILE for what nobody follows. */
static enum within step_into(enum within in, const char *name) {
    static const struct {
        enum within in;
        const char *name;
        enum within to;
    } steps[] = {
        {IN_POINT, "ele", IN_HEIGHT},     {IN_POINT, "time", IN_TIME}, {IN_SEGMENT, "trkpt", IN_POINT},
        {IN_ROUTE, "rtept", IN_POINT},    {IN_GPX, "trk", IN_TRACK},   {IN_GPX, "rte", IN_ROUTE},
        {IN_TRACK, "trkseg", IN_SEGMENT},
    };
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
        if (steps[i].in == in && strcmp(steps[i].name, name) == 0) {
            return steps[i].to;
        }
    }
    return IN_FILE;
}

static void begin_point(struct format_gpx *gpx, const char **attributes) {
    bool track = gpx->in == IN_SEGMENT;
    gpx->point_in = gpx->in;
    gpx->fix = (struct ride_fix){.height_m = (double)NAN, .time_s = (double)NAN};
    gpx->counts = read_angle(&gpx->fix.at.latitude_deg, gpx, "latitude", attribute(attributes, "lat"), 90.0,
                             "a latitude from -90 to 90 as lat") &&
                  read_angle(&gpx->fix.at.longitude_deg, gpx, "longitude", attribute(attributes, "lon"), 180.0,
                             "a longitude from -180 to 180 as lon");
    if (track && !gpx->track) {
        ride_route_init(gpx->route, gpx->arena, true);
        gpx->track = true;
    }
    gpx->counts = gpx->counts && (track || !gpx->track);
}

static void begin_file(struct format_gpx *gpx, const char *name) {
    const char *local = local_name(&gpx->prefix_n, name);
    if (strcmp(local, "gpx") != 0 || gpx->prefix_n > sizeof gpx->prefix) {
        tell_value(gpx, "a file of", base_slice_of(local), ONLY_GPX);
        stop(gpx, BASE_BAD_INPUT);
    }
    memcpy(gpx->prefix, name, gpx->prefix_n < sizeof gpx->prefix ? gpx->prefix_n : 0);
    gpx->in = IN_GPX;
}

static void XMLCALL on_start(void *self, const char *name, const char **attributes) {
    struct format_gpx *gpx = self;
    if (gpx->in == IN_FILE) {
        begin_file(gpx, name);
        return;
    }
    const char *own = gpx->passed_over == 0 ? gpx_name(gpx, name) : NULL;
    enum within to = own ? step_into(gpx->in, own) : IN_FILE;
    if (to == IN_FILE) {
        gpx->passed_over++;
        return;
    }
    if (to == IN_POINT) {
        begin_point(gpx, attributes);
    } else if (to == IN_SEGMENT || to == IN_ROUTE) {
        ride_route_new_piece(gpx->route);
    }
    gpx->text_n = 0;
    gpx->text_long = false;
    gpx->in = to;
}

static void XMLCALL on_text(void *self, const char *text, int n) {
    struct format_gpx *gpx = self;
    if ((gpx->in != IN_HEIGHT && gpx->in != IN_TIME) || gpx->passed_over > 0) {
        return;
    }
    size_t room = sizeof gpx->text - gpx->text_n, taken = (size_t)n < room ? (size_t)n : room;
    memcpy(gpx->text + gpx->text_n, text, taken);
    gpx->text_n += taken;
    gpx->text_long = gpx->text_long || taken < (size_t)n;
}

static void end_height(struct format_gpx *gpx) {
    struct base_slice value = trimmed(gpx->text, gpx->text_n);
    if (value.n > 0 && (gpx->text_long || !read_decimal(&gpx->fix.height_m, value))) {
        tell_value(gpx, "height", value, "a number of metres as ele");
    }
}

/* A time that can't be read counts as none: nothing hangs on it. */
static void end_time(struct format_gpx *gpx) {
    double time_s;
    if (!gpx->text_long && format_moment_read(&time_s, trimmed(gpx->text, gpx->text_n))) {
        gpx->fix.time_s = time_s;
    }
}

static void end_point(struct format_gpx *gpx) {
    enum base_status status = gpx->counts ? ride_route_add(gpx->route, &gpx->fix) : BASE_OK;
    if (status != BASE_OK) {
        stop(gpx, status);
    }
}

static void XMLCALL on_end(void *self, const char *name) {
    struct format_gpx *gpx = self;
    (void)name;
    if (gpx->passed_over > 0) {
        gpx->passed_over--;
        return;
    }
    switch (gpx->in) {
    case IN_HEIGHT:
        end_height(gpx);
        gpx->in = IN_POINT;
        break;
    case IN_TIME:
        end_time(gpx);
        gpx->in = IN_POINT;
        break;
    case IN_POINT:
        end_point(gpx);
        gpx->in = gpx->point_in;
        break;
    case IN_SEGMENT:
        gpx->in = IN_TRACK;
        break;
    default:
        gpx->in = IN_GPX;
        break;
    }
}

static void XMLCALL on_entity(void *self, const char *name, int is_parameter, const char *value, int value_n,
                              const char *base, const char *system_id, const char *public_id, const char *notation) {
    struct format_gpx *gpx = self;
    (void)is_parameter, (void)value, (void)value_n, (void)base, (void)system_id, (void)public_id, (void)notation;
    tell_value(gpx, "the entity", base_slice_of(name), "a file without entities of its own: export the track again");
    stop(gpx, BASE_BAD_INPUT);
}

/* --- the reader ---------------------------------------------------------------------------------------------------- */

enum base_status format_gpx_new(struct format_gpx **out, struct ride_route *route, struct base_arena *arena,
                                const char *file, struct base_faults *faults) {
    static const XML_Memory_Handling_Suite memory = {malloc, realloc, free};
    struct format_gpx *gpx = calloc(1, sizeof *gpx);
    XML_Parser parser = gpx ? XML_ParserCreate_MM(NULL, &memory, NULL) : NULL;
    if (!parser) {
        free(gpx);
        return BASE_NO_MEMORY;
    }
    *gpx = (struct format_gpx){.parser = parser,
                               .source = {.file = file, .faults = faults},
                               .arena = arena,
                               .route = route,
                               .before = faults->total};
    ride_route_init(route, arena, false);
    XML_SetUserData(parser, gpx);
    XML_SetElementHandler(parser, on_start, on_end);
    XML_SetCharacterDataHandler(parser, on_text);
    XML_SetEntityDeclHandler(parser, on_entity);
    *out = gpx;
    return BASE_OK;
}

void format_gpx_free(struct format_gpx *gpx) {
    if (gpx) {
        XML_ParserFree(gpx->parser);
        free(gpx);
    }
}

bool format_gpx_is_track(const struct format_gpx *gpx) { return gpx->track; }

/* Feeds what may be the last bytes. Once something stopped the reading, it stays so. */
static enum base_status parse(struct format_gpx *gpx, struct base_slice bytes, bool last) {
    if (gpx->status == BASE_OK && XML_Parse(gpx->parser, bytes.at, (int)bytes.n, last) == XML_STATUS_ERROR &&
        gpx->status == BASE_OK) {
        tell_xml(gpx, XML_GetErrorCode(gpx->parser));
    }
    return gpx->status;
}

enum base_status format_gpx_feed(struct format_gpx *gpx, struct base_slice bytes) {
    gpx->bytes += bytes.n;
    if (gpx->status == BASE_OK && gpx->bytes > (size_t)FORMAT_GPX_MIB << 20) {
        format_fault_line(&gpx->source, 0, 0, "more than 200 MiB", "a file of less: cut the track in two");
        gpx->status = BASE_BAD_INPUT;
    }
    return parse(gpx, bytes, false);
}

/* What stands in the file is XML; is it a route? */
static bool tell_unusable(const struct format_gpx *gpx) {
    static const char two[] = "a track or a route with two places at least";
    const struct ride_route *route = gpx->route;
    const char *found = NULL, *allowed = two;
    if (route->given == 0) {
        found = "no track and no route";
    } else if (route->given == 1) {
        found = "one point";
    } else if (ride_route_length_m(route) <= 0.0) {
        found = "points that all lie in one place";
    } else if (route->heights == 0 || !route->heights_differ) {
        found = route->heights == 0 ? "no heights" : "no height but 0";
        allowed = "a height (ele) in its points: record it with heights, or draw it where heights are filled in";
    }
    if (found) {
        format_fault_line(&gpx->source, 0, 0, found, allowed);
    }
    return found != NULL;
}

enum base_status format_gpx_end(struct format_gpx *gpx) {
    enum base_status status = parse(gpx, (struct base_slice){"", 0}, true);
    if (status == BASE_OK) {
        status = ride_route_end(gpx->route);
    }
    if (status == BASE_OK && (gpx->source.faults->total > gpx->before || tell_unusable(gpx))) {
        status = BASE_BAD_INPUT;
    }
    return status;
}
