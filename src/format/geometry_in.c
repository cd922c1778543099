/* SPDX-License-Identifier: Apache-2.0 */
#include "format/geometry_in.h"

#include "format/document.h"
#include "format/json.h"
#include "mech/sprocket.h"

#include <math.h>

static const struct format_range coordinate = {.low = -MECH_SUSPENSION_FARTHEST_MM,
                                               .high = MECH_SUSPENSION_FARTHEST_MM};
static const struct format_range teeth_range = {.low = MECH_TEETH_MIN, .high = MECH_TEETH_MAX, .whole = true};
/* More than half a pitch, up to what loop.h takes. */
static const struct format_range radius_range = {.low = 6.4, .high = 1000};

/* --- objects within the document ----------------------------------------------------------------------------------- */

struct member {
    struct format_path step;
    struct format_place place;
    struct format_item item;
};

/* A key of an object; FORMAT_NOTHING when it is not there. out must stay where it is. */
static void find_member(struct member *out, const struct format_place *object, const struct format_item *item,
                        const char *key) {
    out->step = (struct format_path){.up = object->path, .key = key};
    out->place = format_at(object->source, &out->step);
    out->item = format_item_json(json_object_get(item->json, key));
}

/* False with a fault told when the item is no object; keys that it may not have are told. */
static bool open_object(const struct format_place *place, const struct format_item *item, const char *const *keys,
                        size_t n, const char *what, const char *key_of_it) {
    if (item->type != FORMAT_OBJECT) {
        format_fault_item(place, item, what, NULL);
        return false;
    }
    format_json_check_keys(item->json, place->source, place->path, keys, n, key_of_it);
    return true;
}

static bool read_member(double *out, const struct format_place *object, const struct format_item *item, const char *key,
                        struct format_range range) {
    struct member member;
    find_member(&member, object, item, key);
    return format_read_number(out, &member.place, &member.item, range);
}

/* Two numbers, [x, y]. */
static bool read_point(struct mech_point *out, const struct format_place *place, const struct format_item *item) {
    static const char allowed[] = "a list of two numbers, x and y in mm";
    struct format_list list;
    struct format_item one;
    struct format_place at;
    double xy[2] = {0, 0};
    bool good = true;
    if (!format_list_init(&list, place, item, allowed)) {
        return false;
    }
    if (json_array_size(item->json) != 2) {
        format_fault(place, "a list of another length", allowed, NULL);
        return false;
    }
    for (size_t i = 0; format_list_next(&list, &one, &at); i++) {
        good = format_read_number(&xy[i], &at, &one, coordinate) && good;
    }
    *out = (struct mech_point){xy[0], xy[1]};
    return good;
}

/* --- wheels -------------------------------------------------------------------------------------------------------- */

/* Teeth or radius: one of them. */
static void read_size(struct mech_loop_wheel *wheel, int *teeth, const struct format_place *place,
                      const struct format_item *item) {
    struct member by_teeth, by_radius;
    double count;
    find_member(&by_teeth, place, item, "teeth");
    find_member(&by_radius, place, item, "radius_mm");
    if ((by_teeth.item.type == FORMAT_NOTHING) == (by_radius.item.type == FORMAT_NOTHING)) {
        bool none = by_teeth.item.type == FORMAT_NOTHING;
        format_fault(none ? &by_teeth.place : &by_radius.place, none ? "nothing" : "teeth and radius_mm",
                     "one of teeth, radius_mm", NULL);
    } else if (by_radius.item.type != FORMAT_NOTHING) {
        if (!format_read_number(&wheel->radius_mm, &by_radius.place, &by_radius.item, radius_range)) {
            wheel->radius_mm = 0;
        }
    } else if (format_read_number(&count, &by_teeth.place, &by_teeth.item, teeth_range)) {
        *teeth = (int)count;
        if (mech_sprocket_pitch_radius_mm(&wheel->radius_mm, *teeth) != BASE_OK) {
            wheel->radius_mm = 0; /* can't be: the range is the same */
        }
    }
}

static void read_wheel(struct format_wheels *wheels, const struct format_place *place, const struct format_item *item) {
    static const char *const keys[] = {"x_mm", "y_mm", "teeth", "radius_mm", "sense"};
    static const char *const senses[] = {"cw", "ccw"};
    struct mech_loop_wheel *wheel = &wheels->at[wheels->n];
    struct member sense;
    unsigned word;
    if (!open_object(place, item, keys, sizeof keys / sizeof keys[0], "an object of a wheel's keys",
                     "a key of a wheel")) {
        return;
    }
    bool good = read_member(&wheel->x_mm, place, item, "x_mm", coordinate);
    good = read_member(&wheel->y_mm, place, item, "y_mm", coordinate) && good;
    read_size(wheel, &wheels->teeth[wheels->n], place, item);
    find_member(&sense, place, item, "sense");
    if (format_read_word(&word, &sense.place, &sense.item, senses, 2)) {
        wheel->sense = word == 0 ? -1 : 1;
    }
    wheels->n += good;
}

enum base_status format_wheels_read(struct format_wheels *out, struct base_slice bytes, const char *file,
                                    struct base_faults *faults) {
    static const char *const names[] = {"wheels"};
    struct format_document document;
    struct format_wheels wheels = {.n = 0};
    struct format_list list;
    struct format_item one;
    struct format_place at;
    enum base_status status = format_document_init(&document, bytes, file, faults, names, 1, "a key of a path");
    if (status != BASE_OK) {
        return status;
    }
    const struct format_key *key = &document.keys[0];
    if (format_list_init(&list, &key->place, &key->item, "a list of wheels")) {
        size_t n = json_array_size(key->item.json);
        if (n < MECH_LOOP_WHEELS_MIN || n > MECH_LOOP_WHEELS_MAX) {
            format_fault(&key->place, n < MECH_LOOP_WHEELS_MIN ? "fewer wheels" : "more wheels", "two to eight", NULL);
        } else {
            while (format_list_next(&list, &one, &at)) {
                read_wheel(&wheels, &at, &one);
            }
        }
    }
    status = format_reader_end(&document.reader);
    if (status == BASE_OK) {
        *out = wheels;
    }
    format_document_clear(&document);
    return status;
}

/* --- suspension ---------------------------------------------------------------------------------------------------- */

enum {
    AXLE,
    PIVOT,
    LOWER,
    UPPER,
    AXLE_PATH,
    RING,
    SPROCKET,
    NEW_RING,
    NEW_SPROCKET,
    IDLER,
    WHEEL_RADIUS,
    WHEELBASE,
    MASS_HEIGHT,
    SAG,
    TRAVEL,
    KEYS
};

static const char *const suspension_names[KEYS] = {
    [AXLE] = "axle_mm",
    [PIVOT] = "pivot_mm",
    [LOWER] = "lower",
    [UPPER] = "upper",
    [AXLE_PATH] = "axle_path_mm",
    [RING] = "ring",
    [SPROCKET] = "sprocket",
    [NEW_RING] = "new_ring",
    [NEW_SPROCKET] = "new_sprocket",
    [IDLER] = "idler",
    [WHEEL_RADIUS] = "wheel_radius_mm",
    [WHEELBASE] = "wheelbase_mm",
    [MASS_HEIGHT] = "centre_of_mass_height_mm",
    [SAG] = "sag_mm",
    [TRAVEL] = "travel_mm",
};

static void read_link(struct mech_link *out, const struct format_key *key) {
    static const char *const keys[] = {"frame_mm", "joint_mm"};
    struct member frame, joint;
    if (!open_object(&key->place, &key->item, keys, 2, "an object with frame_mm and joint_mm", "a key of a link")) {
        return;
    }
    find_member(&frame, &key->place, &key->item, "frame_mm");
    find_member(&joint, &key->place, &key->item, "joint_mm");
    bool both = read_point(&out->frame, &frame.place, &frame.item);
    both = read_point(&out->joint, &joint.place, &joint.item) && both;
    (void)both; /* each fault is told */
}

/* The axle at rest joins the measured points by its height; where one stands there already it must be the same. */
static void place_axle(struct mech_suspension *s, const struct format_key *axle) {
    size_t at = 0;
    while (at < s->n && s->points[at].y_mm < s->axle.y_mm) {
        at++;
    }
    if (at < s->n && !(s->points[at].y_mm > s->axle.y_mm)) {
        if (s->points[at].x_mm < s->axle.x_mm || s->points[at].x_mm > s->axle.x_mm) {
            format_fault(&axle->place, "another point", "the point of axle_path_mm at its height, or one between these",
                         NULL);
        }
        return;
    }
    for (size_t i = s->n++; i > at; i--) {
        s->points[i] = s->points[i - 1];
    }
    s->points[at] = s->axle;
}

/* Points by rising height. */
static void read_points(struct mech_suspension *s, const struct format_key *key, const struct format_key *axle,
                        bool axle_good) {
    struct format_list list;
    struct format_item one;
    struct format_place at;
    if (!format_list_init(&list, &key->place, &key->item, "a list of points, each two numbers, x and y in mm")) {
        return;
    }
    size_t n = json_array_size(key->item.json);
    if (n < MECH_SUSPENSION_POINTS_MIN || n >= MECH_SUSPENSION_POINTS_MAX) { /* room for the axle at rest */
        format_fault(&key->place, n < MECH_SUSPENSION_POINTS_MIN ? "fewer points" : "more points", "2 to 31 points",
                     NULL);
        return;
    }
    bool good = true;
    while (format_list_next(&list, &one, &at)) {
        struct mech_point *point = &s->points[s->n];
        bool read = read_point(point, &at, &one);
        if (read && s->n > 0 && !(point->y_mm - point[-1].y_mm >= 0.001)) {
            format_fault(&at, "a point that lies no higher", "points in the order of rising travel", NULL);
            read = false;
        }
        good = good && read;
        s->n += read;
    }
    if (good && !axle->there) {
        s->axle = s->points[0];
    } else if (good && axle_good) {
        place_axle(s, axle);
    }
}

/* Exactly one way of saying where the axle goes. */
static void read_kind(struct mech_suspension *s, const struct format_key *keys, bool axle_good) {
    bool pivot = keys[PIVOT].item.type != FORMAT_NOTHING, points = keys[AXLE_PATH].item.type != FORMAT_NOTHING;
    bool links = keys[LOWER].item.type != FORMAT_NOTHING || keys[UPPER].item.type != FORMAT_NOTHING;
    static const char ways[] = "one of pivot_mm, lower and upper, axle_path_mm";
    if (pivot + points + links != 1) {
        bool none = pivot + points + links == 0;
        const struct format_key *at = none ? &keys[PIVOT] : points ? &keys[AXLE_PATH] : &keys[LOWER];
        format_fault(&at->place, none ? "nothing" : "more than one of them", ways, NULL);
    } else if (pivot) {
        s->kind = MECH_SUSPENSION_PIVOT;
        if (!read_point(&s->pivot, &keys[PIVOT].place, &keys[PIVOT].item)) {
            s->pivot = s->axle; /* the fault is told */
        }
    } else if (links) {
        s->kind = MECH_SUSPENSION_FOUR_BAR;
        read_link(&s->lower, &keys[LOWER]);
        read_link(&s->upper, &keys[UPPER]);
    } else {
        s->kind = MECH_SUSPENSION_POINTS;
        read_points(s, &keys[AXLE_PATH], &keys[AXLE], axle_good);
    }
}

static void read_length(double *out, const struct format_key *key, double low, double high) {
    if (!format_read_number(out, &key->place, &key->item, (struct format_range){.low = low, .high = high})) {
        *out = low; /* the fault is told */
    }
}

static void read_teeth(int *out, const struct format_key *key) {
    double teeth;
    if (format_read_number(&teeth, &key->place, &key->item, teeth_range)) {
        *out = (int)teeth;
    }
}

/* A wheel on the frame over which the chain passes; left out where there is none. */
static void read_idler(struct mech_suspension_drive *out, const struct format_key *key) {
    static const char *const keys[] = {"x_mm", "y_mm", "teeth"};
    struct member member;
    double teeth;
    if (key->item.type == FORMAT_NOTHING ||
        !open_object(&key->place, &key->item, keys, 3, "an object with x_mm, y_mm and teeth", "a key of an idler")) {
        return;
    }
    bool good = read_member(&out->idler.x_mm, &key->place, &key->item, "x_mm", coordinate);
    good = read_member(&out->idler.y_mm, &key->place, &key->item, "y_mm", coordinate) && good;
    find_member(&member, &key->place, &key->item, "teeth");
    if (format_read_number(&teeth, &member.place, &member.item, teeth_range) && good) {
        out->idler_teeth = (int)teeth;
    }
}

/* The gear that takes its place: its ring, and its sprocket where that changes too. */
static void read_new_gear(struct format_suspension *out, const struct format_key *ring,
                          const struct format_key *sprocket) {
    out->new_sprocket = out->drive.sprocket;
    if (ring->item.type != FORMAT_NOTHING) {
        read_teeth(&out->new_ring, ring);
    } else if (sprocket->item.type != FORMAT_NOTHING) {
        out->new_ring = out->drive.ring;
    }
    if (sprocket->item.type != FORMAT_NOTHING) {
        read_teeth(&out->new_sprocket, sprocket);
    }
}

static void read_travels(struct format_suspension *out, const struct format_key *key) {
    static const struct format_range travel = {.low = -MECH_SUSPENSION_TRAVEL_MAX_MM,
                                               .high = MECH_SUSPENSION_TRAVEL_MAX_MM};
    struct format_list list;
    struct format_item one;
    struct format_place at;
    if (!format_list_init(&list, &key->place, &key->item, "a list of travels in mm")) {
        return;
    }
    size_t n = json_array_size(key->item.json);
    if (n == 0 || n > FORMAT_TRAVELS_MAX) {
        format_fault(&key->place, n == 0 ? "an empty list" : "more travels", "1 to 1000 travels", NULL);
        return;
    }
    while (format_list_next(&list, &one, &at)) {
        out->n += format_read_number(&out->travel_mm[out->n], &at, &one, travel);
    }
}

static void read_all(struct format_suspension *out, const struct format_key *keys) {
    bool axle_good = false;
    bool by_points = keys[AXLE_PATH].item.type != FORMAT_NOTHING && keys[AXLE].item.type == FORMAT_NOTHING;
    if (!by_points) {
        axle_good = read_point(&out->suspension.axle, &keys[AXLE].place, &keys[AXLE].item);
    }
    read_kind(&out->suspension, keys, axle_good);
    read_teeth(&out->drive.ring, &keys[RING]);
    read_teeth(&out->drive.sprocket, &keys[SPROCKET]);
    read_length(&out->drive.wheel_radius_mm, &keys[WHEEL_RADIUS], 100, 500);
    read_length(&out->drive.wheelbase_mm, &keys[WHEELBASE], 400, 3000);
    read_length(&out->drive.mass_height_mm, &keys[MASS_HEIGHT], 100, 3000);
    read_new_gear(out, &keys[NEW_RING], &keys[NEW_SPROCKET]);
    read_idler(&out->drive, &keys[IDLER]);
    read_travels(out, &keys[TRAVEL]);
    out->sag_mm = NAN;
    if (keys[SAG].item.type != FORMAT_NOTHING) {
        read_length(&out->sag_mm, &keys[SAG], 0, MECH_SUSPENSION_TRAVEL_MAX_MM);
    }
}

/* --- of a bike ----------------------------------------------------------------------------------------------------- */

/* The keys of a nested object as those of a document; keys must stay where it is. */
static void find_keys(struct format_key keys[KEYS], const struct format_place *object, const struct format_item *item) {
    for (size_t i = 0; i < KEYS; i++) {
        keys[i].step = (struct format_path){.up = object->path, .key = suspension_names[i]};
        keys[i].place = format_at(object->source, &keys[i].step);
        keys[i].item = format_item_json(json_object_get(item->json, suspension_names[i]));
        keys[i].there = keys[i].item.json != NULL;
    }
}

/* Does the rear end reach its travel? */
static void check_reach(const struct mech_suspension_frame *frame, const struct format_key *travel) {
    struct mech_suspension_state state;
    enum mech_suspension_why why;
    enum base_status status = mech_suspension_rest(&state, &why, &frame->suspension);
    if (status == BASE_OK) {
        status = mech_suspension_move(&state, &why, &frame->suspension, frame->travel_mm);
    }
    if (status != BASE_OK) {
        format_fault(&travel->place, "a travel that the axle does not reach", "as far as the linkage or the points go",
                     NULL);
    }
}

bool format_suspension_in_bike(struct mech_suspension_frame *out, const struct format_place *place,
                               const struct format_item *item) {
    static const char *const names[] = {"axle_mm",      "pivot_mm", "lower",  "upper",
                                        "axle_path_mm", "idler",    "sag_mm", "travel_mm"};
    struct format_key keys[KEYS];
    struct mech_suspension_frame frame = {.sag_mm = NAN};
    struct mech_suspension_drive drive = {0};
    bool axle_good = false;
    size_t before = place->source->faults->total;
    if (!open_object(place, item, names, sizeof names / sizeof names[0], "an object of a suspension's keys",
                     "a key of a suspension")) {
        return false;
    }
    find_keys(keys, place, item);
    if (keys[AXLE_PATH].item.type == FORMAT_NOTHING || keys[AXLE].item.type != FORMAT_NOTHING) {
        axle_good = read_point(&frame.suspension.axle, &keys[AXLE].place, &keys[AXLE].item);
    }
    read_kind(&frame.suspension, keys, axle_good);
    read_idler(&drive, &keys[IDLER]);
    frame.idler = drive.idler;
    frame.idler_teeth = drive.idler_teeth;
    read_length(&frame.travel_mm, &keys[TRAVEL], 1, MECH_SUSPENSION_TRAVEL_MAX_MM);
    if (keys[SAG].item.type != FORMAT_NOTHING) {
        read_length(&frame.sag_mm, &keys[SAG], 0, frame.travel_mm);
    }
    if (place->source->faults->total == before) {
        check_reach(&frame, &keys[TRAVEL]);
    }
    bool good = place->source->faults->total == before;
    if (good) {
        *out = frame;
    }
    return good;
}

enum base_status format_suspension_read(struct format_suspension *out, struct base_slice bytes, const char *file,
                                        struct base_faults *faults) {
    struct format_document document;
    struct format_suspension read = {.n = 0};
    enum base_status status =
        format_document_init(&document, bytes, file, faults, suspension_names, KEYS, "a key of a suspension");
    if (status != BASE_OK) {
        return status;
    }
    read_all(&read, document.keys);
    status = format_reader_end(&document.reader);
    if (status == BASE_OK) {
        *out = read;
    }
    format_document_clear(&document);
    return status;
}
