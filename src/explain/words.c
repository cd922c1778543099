/* SPDX-License-Identifier: Apache-2.0 */
#include "explain/words.h"

const struct explain_word explain_marks[EXPLAIN_MARKS] = {
    [EXPLAIN_FITS] = {"fits", "mark.fits", "mark.fits.what"},
    [EXPLAIN_STAYS] = {"keep", "mark.stays", "mark.stays.what"},
    [EXPLAIN_NEW] = {"new", "mark.new", "mark.new.what"},
    [EXPLAIN_ADAPTED] = {"adapter", "mark.adapted", "mark.adapted.what"},
    [EXPLAIN_OFF] = {"none", "mark.off", "mark.off.what"},
    [EXPLAIN_MEASURE] = {"measure", "mark.measure", "mark.measure.what"},
    [EXPLAIN_CLASH] = {"clash", "mark.clash", "mark.clash.what"},
    [EXPLAIN_DRAWBACK] = {"drawback", "mark.drawback", "mark.drawback.what"},
};

const struct explain_word explain_known_words[EXPLAIN_KNOWN] = {
    {"measured", "known.measured", "known.measured.what"},
    {"table", "known.table", "known.table.what"},
    {"assumed", "known.assumed", "known.assumed.what"},
    {"open", "known.open", "known.open.what"},
};

const struct explain_word explain_words_of_documents[] = {
    {"builds", "word.builds", "word.builds.what"},
    {"interfaces", "word.joints", "word.joints.what"},
    {"picks", "word.picks", "word.picks.what"},
    {"front_size", "word.front", "word.front.what"},
    {"cases", "word.cases", "word.cases.what"},
    {"equals", "word.equals", "word.equals.what"},
    {"certain", "word.certain", "word.certain.what"},
    {"cost", "word.cost", "word.cost.what"},
    {"overruled", "word.overruled", "word.overruled.what"},
    {NULL, NULL, NULL},
};

enum explain_mark explain_mark_of(const struct fit_finding *finding) {
    static const enum explain_mark of_kind[] = {
        [FIT_SILENT] = EXPLAIN_FITS,       [FIT_FITS] = EXPLAIN_FITS,   [FIT_ADAPTER] = EXPLAIN_ADAPTED,
        [FIT_DRAWBACK] = EXPLAIN_DRAWBACK, [FIT_ASK] = EXPLAIN_MEASURE, [FIT_CLASH] = EXPLAIN_CLASH};
    if (finding->conditional || finding->hangs) {
        return EXPLAIN_MEASURE;
    }
    return of_kind[finding->verdict.kind];
}
