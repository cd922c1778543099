/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Tracks and routes as GPX: what is read of them, in pieces of any size, and what a broken file is told.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "format/gpx_in.h"
#include "given.h"
#include "support/failing.h"
#include "support/near.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define GPX11 "<gpx version=\"1.1\" creator=\"x\" xmlns=\"http://www.topografix.com/GPX/1/1\">"
#define GPX10 "<gpx version=\"1.0\" creator=\"x\" xmlns=\"http://www.topografix.com/GPX/1/0\">"
#define TRACK "<trk><trkseg>"
#define END "</trkseg></trk></gpx>"
#define POINT(LAT, LON, ELE) "<trkpt lat=\"" LAT "\" lon=\"" LON "\"><ele>" ELE "</ele></trkpt>"
#define TWO POINT("45", "7", "100") POINT("45.001", "7", "110")

static struct base_arena arena;
static struct base_faults faults;
static struct ride_route route;

static int set_up(void **state) {
    (void)state;
    base_arena_init(&arena, 0);
    base_faults_init(&faults);
    return 0;
}

static int tear_down(void **state) {
    (void)state;
    base_faults_clear(&faults);
    base_arena_clear(&arena);
    return 0;
}

/* Reads a text in pieces of so many bytes. */
static enum base_status read_in(struct base_slice text, size_t piece) {
    struct format_gpx *gpx;
    enum base_status status = format_gpx_new(&gpx, &route, &arena, "ride.gpx", &faults);
    if (status != BASE_OK) {
        return status;
    }
    for (size_t at = 0; at < text.n && status == BASE_OK; at += piece) {
        size_t n = text.n - at < piece ? text.n - at : piece;
        status = format_gpx_feed(gpx, (struct base_slice){text.at + at, n});
    }
    status = status == BASE_OK ? format_gpx_end(gpx) : status;
    format_gpx_free(gpx);
    return status;
}

static void check_read(const char *text, size_t points, double length_m) {
    assert_int_equal(read_in(base_slice_of(text), 7), BASE_OK);
    assert_int_equal(route.n, points);
    assert_near(ride_route_length_m(&route), length_m, 1e-4);
}

static void check_fault(const char *text, const char *line) {
    assert_int_equal(read_in(base_slice_of(text), 4096), BASE_BAD_INPUT);
    given_expect(&faults, line);
    base_faults_clear(&faults);
    assert_int_equal(read_in(base_slice_of(text), 1), BASE_BAD_INPUT);
    given_expect(&faults, line);
    base_faults_clear(&faults);
}

/* --- what is read -------------------------------------------------------------------------------------------------- */

static void a_track_of_either_version(void **state) {
    (void)state;
    check_read(GPX11 TRACK TWO END, 2, 111.131787);
    check_read("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" GPX10 TRACK TWO END, 2, 111.131787);
    check_read("\xEF\xBB\xBF<gpx>" TRACK TWO END, 2, 111.131787);
    assert_near(route.points[1].height_m, 110.0, 0.0);
}

static void what_else_stands_there_is_passed_over(void **state) {
    (void)state;
    check_read(GPX11 "<metadata><name>a &amp; b</name><time>2026-05-01T09:00:00Z</time></metadata>"
                     "<wpt lat=\"1\" lon=\"2\"><ele>9</ele></wpt><!-- <trkpt lat=\"0\" lon=\"0\"/> -->"
                     "<trk><name>x</name><extensions><e:trkseg xmlns:e=\"urn:e\"><trkpt lat=\"9\" lon=\"9\"/>"
                     "</e:trkseg></extensions><trkseg/><trkseg>"
                     "<trkpt lat=\"45\" lon=\"7\"><ele> +1e2 </ele><extensions><ele>7</ele></extensions></trkpt>"
                     "<trkpt lat=\"45.001\" lon=\"7.\"><ele><![CDATA[110]]></ele></trkpt>" END,
               2, 111.131787);
    assert_near(route.points[0].height_m, 100.0, 0.0);
    assert_near(route.points[1].height_m, 110.0, 0.0);
}

static void a_planned_route_where_there_is_no_track(void **state) {
    (void)state;
    static const char planned[] = "<rte><rtept lat=\"45\" lon=\"7\"><ele>1</ele></rtept>"
                                  "<rtept lat=\"45.09\" lon=\"7.12\"><ele>2</ele></rtept></rte>";
    char text[2048];
    strcpy(strcpy(text, GPX11) + strlen(GPX11), planned);
    strcat(text, "</gpx>");
    check_read(text, 2, 13763.026317); /* by the local formula; 3.3 mm more than the geodesic */
    strcpy(text + strlen(text) - strlen("</gpx>"), TRACK TWO END);
    check_read(text, 2, 111.131787);
    strcpy(text, GPX11 TRACK TWO "</trkseg></trk>");
    strcat(strcat(text, planned), "</gpx>");
    check_read(text, 2, 111.131787);
}

static void segments_far_apart_are_a_break(void **state) {
    (void)state;
    check_read(GPX11 TRACK TWO "</trkseg><trkseg>" POINT("45.1", "7", "5") POINT("45.101", "7", "6") END, 4,
               111.131787 + 111.1337);
    assert_int_equal(route.breaks, 1);
    assert_true(route.points[2].after_break);
}

static void times_with_fractions_and_zones(void **state) {
    (void)state;
    check_read(GPX11 TRACK "<trkpt lat=\"45\" lon=\"7\"><ele>1</ele><time>2026-02-28T23:59:50.5Z</time></trkpt>"
                           "<trkpt lat=\"45.001\" lon=\"7\"><ele>2</ele><time>2026-03-01T02:00:30+02:00</time></trkpt>"
                           "<trkpt lat=\"45.002\" lon=\"7\"><ele>2</ele><time>soon</time></trkpt>" END,
               3, 222.2636);
    assert_int_equal(route.times, 2);
    assert_near(route.moving_s, 39.5, 1e-6);
}

static void other_encodings(void **state) {
    (void)state;
    char wide[2 * sizeof(GPX11 TRACK TWO END) + 2] = {(char)0xFF, (char)0xFE};
    const char *narrow = GPX11 TRACK TWO END;
    for (size_t i = 0; i < strlen(narrow); i++) {
        wide[2 + 2 * i] = narrow[i];
    }
    assert_int_equal(read_in((struct base_slice){wide, 2 + 2 * strlen(narrow)}, 5), BASE_OK);
    assert_int_equal(route.n, 2);
    check_read("<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?>" GPX11
               "<metadata><name>\xE9</name></metadata>" TRACK TWO END,
               2, 111.131787);
}

/* --- what is refused ----------------------------------------------------------------------------------------------- */

static void files_that_are_cut_off_or_no_gpx(void **state) {
    (void)state;
    check_fault(GPX11 "\n<trk><trkseg>" TWO,
                "2:110 | - | the end of the file | "
                "the rest of the track, up to </gpx>: copy or export the file again | -\n");
    check_fault(GPX11 "\n<trk><", "2:6 | - | the end of the file | "
                                  "the rest of the track, up to </gpx>: copy or export the file again | -\n");
    check_fault("", "0:0 | - | an empty file | "
                    "a file that begins with <gpx>: a track or a route, exported as GPX | -\n");
    check_fault("{\"format\": 1}", "1:1 | - | something else | "
                                   "a file that begins with <gpx>: a track or a route, exported as GPX | -\n");
    check_fault("<html><body/></html>", "1:1 | - | a file of \"html\" | "
                                        "a file that begins with <gpx>: a track or a route, exported as GPX | -\n");
    check_fault(GPX11 TRACK "</trk></gpx>", "1:89 | - | a closing tag that does not belong to the last one opened | "
                                            "well-formed XML: export the file again | -\n");
}

static void entities_are_refused(void **state) {
    (void)state;
    char bomb[4096] = "<?xml version=\"1.0\"?>\n<!DOCTYPE gpx [<!ENTITY a \"aaaaaaaaaa\">";
    for (char c = 'b'; c < 'k'; c++) {
        char entity[128] = "<!ENTITY ? \"&?;&?;&?;&?;&?;&?;&?;&?;&?;&?;\">";
        entity[9] = c;
        for (size_t i = 13; i < strlen(entity); i++) {
            entity[i] = entity[i] == '?' ? (char)(c - 1) : entity[i];
        }
        strcat(bomb, entity);
    }
    strcat(bomb, "]>" GPX11 "<metadata><name>&j;</name></metadata></gpx>");
    check_fault(bomb, "2:27 | - | the entity \"a\" | "
                      "a file without entities of its own: export the track again | -\n");
    check_fault("<!DOCTYPE gpx [<!ENTITY x SYSTEM \"file:///etc/passwd\">]><gpx>&x;</gpx>",
                "1:54 | - | the entity \"x\" | a file without entities of its own: export the track again | -\n");
}

static void values_that_are_no_places(void **state) {
    (void)state;
    check_fault(GPX11 TRACK TWO "\n" POINT("95", "7", "1") "\n  " POINT("45", "7,5", "1") "\n" POINT(
                    "45", "7", "1m") "\n<trkpt lat=\"45\"/>\n<trkpt lat=\"nan\" lon=\"1\"/>" END,
                "2:1 | - | latitude \"95\" | a latitude from -90 to 90 as lat | -\n"
                "3:3 | - | longitude \"7,5\" | a longitude from -180 to 180 as lon | -\n"
                "4:32 | - | height \"1m\" | a number of metres as ele | -\n"
                "5:1 | - | a point without its place | a longitude from -180 to 180 as lon | -\n"
                "6:1 | - | latitude \"nan\" | a latitude from -90 to 90 as lat | -\n");
}

static void files_that_hold_no_route(void **state) {
    (void)state;
    static const char two[] = "a track or a route with two places at least | -\n";
    char line[256];
    check_fault(GPX11 "<wpt lat=\"1\" lon=\"1\"/></gpx>",
                strcat(strcpy(line, "0:0 | - | no track and no route | "), two));
    check_fault(GPX11 TRACK POINT("45", "7", "1") END, strcat(strcpy(line, "0:0 | - | one point | "), two));
    check_fault(GPX11 TRACK POINT("45", "7", "1") POINT("45", "7", "1") END,
                strcat(strcpy(line, "0:0 | - | points that all lie in one place | "), two));
    check_fault(GPX11 TRACK "<trkpt lat=\"45\" lon=\"7\"/><trkpt lat=\"45.1\" lon=\"7\"/>" END,
                "0:0 | - | points that all lie in one place | a track or a route with two places at least | -\n");
    check_fault(GPX11 TRACK "<trkpt lat=\"45\" lon=\"7\"/><trkpt lat=\"45.001\" lon=\"7\"/>" END,
                "0:0 | - | no heights | a height (ele) in its points: record it with heights, or draw it where "
                "heights are filled in | -\n");
    check_fault(GPX11 TRACK POINT("45", "7", "0") POINT("45.001", "7", "0.0") END,
                "0:0 | - | no height but 0 | a height (ele) in its points: record it with heights, or draw it where "
                "heights are filled in | -\n");
}

static void a_file_that_is_too_large(void **state) {
    (void)state;
    struct format_gpx *gpx;
    size_t n = (size_t)1 << 20;
    char *blanks = malloc(n);
    assert_non_null(blanks);
    memset(blanks, ' ', n);
    assert_int_equal(format_gpx_new(&gpx, &route, &arena, "ride.gpx", &faults), BASE_OK);
    assert_int_equal(format_gpx_feed(gpx, base_slice_of(GPX11 TRACK TWO)), BASE_OK);
    enum base_status status = BASE_OK;
    size_t mib = 0;
    for (; status == BASE_OK; mib++) {
        status = format_gpx_feed(gpx, (struct base_slice){blanks, n});
    }
    assert_int_equal(status, BASE_BAD_INPUT);
    assert_int_equal(mib, FORMAT_GPX_MIB);
    given_expect(&faults, "0:0 | - | more than 200 MiB | a file of less: cut the track in two | -\n");
    format_gpx_free(gpx);
    free(blanks);
}

static void when_memory_runs_out(void **state) {
    (void)state;
    long n = 0;
    for (bool failed = true; failed; n++) {
        support_fail_after(n);
        enum base_status status = read_in(base_slice_of(GPX11 TRACK TWO END), 40);
        failed = support_failed();
        support_fail_after(-1);
        assert_int_equal(status, failed ? BASE_NO_MEMORY : BASE_OK);
        base_arena_clear(&arena);
    }
    assert_true(n > 10);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(a_track_of_either_version, set_up, tear_down),
        cmocka_unit_test_setup_teardown(what_else_stands_there_is_passed_over, set_up, tear_down),
        cmocka_unit_test_setup_teardown(a_planned_route_where_there_is_no_track, set_up, tear_down),
        cmocka_unit_test_setup_teardown(segments_far_apart_are_a_break, set_up, tear_down),
        cmocka_unit_test_setup_teardown(times_with_fractions_and_zones, set_up, tear_down),
        cmocka_unit_test_setup_teardown(other_encodings, set_up, tear_down),
        cmocka_unit_test_setup_teardown(files_that_are_cut_off_or_no_gpx, set_up, tear_down),
        cmocka_unit_test_setup_teardown(entities_are_refused, set_up, tear_down),
        cmocka_unit_test_setup_teardown(values_that_are_no_places, set_up, tear_down),
        cmocka_unit_test_setup_teardown(files_that_hold_no_route, set_up, tear_down),
        cmocka_unit_test_setup_teardown(a_file_that_is_too_large, set_up, tear_down),
        cmocka_unit_test_setup_teardown(when_memory_runs_out, set_up, tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
