/* SPDX-License-Identifier: Apache-2.0 */
#include "paper/style.h"

#include "draw/palette.h"

/* --w, --i and --n are the page's own: width and indent of a cell, and the values of a row that stand beside each other. */
static const char everywhere[] =
    ":root{color-scheme:light dark;font:18px/1.4 'DejaVu Sans',Verdana,system-ui,sans-serif}\n"
    "body{max-width:46em;margin:1em auto;padding:0 1em;overflow-wrap:break-word;font-variant-numeric:tabular-nums}\n"
    "h1,h2{display:flex;flex-wrap:wrap;justify-content:space-between;column-gap:1em}\n"
    "h1{font-size:1.35em;margin:.2em 0}\n"
    "h2{font-size:1.1em;margin:1.2em 0 .4em}\n"
    "h3{font-size:1em;margin:.8em 0 .2em}\n"
    ".row{display:flex;column-gap:.5em;margin:.2em 0}\n"
    ".row>*{flex:none;width:var(--w);margin-left:var(--i)}\n"
    ".row>.rest{flex:1 1 0;min-width:0}\n"
    ".row>.count{width:auto;min-width:max(var(--w),1.4em);text-align:right}\n"
    ".count,.sum,.sign{white-space:nowrap}\n"
    ".row svg{vertical-align:-.1em}\n"
    ".small{font-size:max(.87em,16px)}\n"
    ".gap{height:.5em}\n"
    "table{border-collapse:collapse;width:100%;margin:.4em 0}\n"
    "th{font-weight:inherit;text-align:left}\n"
    "td,thead th{padding:.1em 0 .1em .8em;text-align:right}td.left,thead th.left{text-align:left}\n"
    "tbody+tbody tr:first-child>*{padding-top:.7em}\n"
    ".tick,.box{display:inline-block;box-sizing:border-box;border:1px solid;vertical-align:-.3em;height:1.3em}\n"
    ".tick{width:1.3em}\n"
    ".box{min-width:5em;padding:0 .3em;text-align:right;line-height:1.2}\n"
    ".box:empty{min-width:8em}\n"
    ".rule{display:inline-block;width:14em;max-width:100%;height:1.6em;border-bottom:1px solid}\n"
    "figure{display:inline-block;vertical-align:top;margin:.6em 0;width:26em;max-width:calc(50% - .25em)}\n"
    "figure:has([viewBox^=\"0 0 720 \"]){display:block;width:auto;max-width:none}\n"
    "figure.aside{float:right;margin-left:1.5em}\n"
    "figure svg{display:block;width:100%;height:auto}\n"
    "footer{border:1px solid;margin-top:1.5em;font-size:16px}\n"
    "dl{display:flex;flex-wrap:wrap;margin:0}\n"
    "dl div{flex:1 1 auto;padding:.2em .5em;border-right:1px solid}\n"
    "dd{margin:0;min-height:1.4em}\n";

/* A label stands over its text; figures take the whole width, so that their text is as large as ours. */
static const char on_a_phone[] =
    "@media (max-width:40em){\n"
    ".row.labelled{flex-wrap:wrap;margin:.5em 0}\n"
    ".row>.label{flex:1 1 0;width:auto;margin-left:0}\n"
    ".row>.tile,.row>.value{width:auto}\n"
    ".row.labelled>.rest{order:1;flex:1 0 100%;box-sizing:border-box;padding-left:1.2em}\n"
    ".row>.rest:first-child{margin-left:min(var(--i,0em),1.2em)}\n"
    ".row svg{width:20px;height:20px}\n"
    ".box:empty{min-width:5.5em}\n"
    "table,thead,tbody{display:block}\n"
    "tr{display:grid;grid-template-columns:repeat(var(--n),1fr);gap:0 .5em}\n"
    "tr>:first-child{grid-column:1/-1}\n"
    "tbody th{padding-top:.3em}\n"
    "td,thead th{padding:0}\n"
    "thead td:first-child{display:none}\n"
    "figure,figure.aside{display:block;float:none;width:auto;max-width:none;margin:.6em -1em}}\n";

/* Boxes take a pen: 6 mm, lines 8 mm (common practice of forms). */
static const char in_print[] = "@media print{\n"
                               ":root{font-size:10pt;line-height:1.25}\n"
                               "body{max-width:none;margin:0;padding:0}\n"
                               ".row{margin:.1em 0}\n"
                               ".small,footer{font-size:9pt}\n"
                               ".tick{width:4.5mm;height:4.5mm}\n"
                               ".box{min-width:20mm;height:6mm;margin:.4mm 0}\n"
                               ".box:empty{min-width:30mm}\n"
                               ".rule{height:8mm;width:70mm}\n"
                               "h1,h2,h3{break-after:avoid}\n"
                               ".row,figure,tr,footer{break-inside:avoid}}\n";

/* A text as a string of CSS that ends no element and begins none. */
static void put_string(struct base_buffer *out, const char *text) {
    base_buffer_char(out, '"');
    for (; *text != '\0'; text++) {
        unsigned char c = (unsigned char)*text;
        if (c < ' ' || c == '"' || c == '\\' || c == '<' || c == '&') {
            base_buffer_char(out, '\\');
            base_buffer_char(out, "0123456789abcdef"[c >> 4]);
            base_buffer_char(out, "0123456789abcdef"[c & 15]);
            base_buffer_char(out, ' ');
        } else {
            base_buffer_char(out, *text);
        }
    }
    base_buffer_char(out, '"');
}

/* The title at the foot of each page, and 'sheet n of m'. */
static void put_margins(struct base_buffer *out, const struct paper *paper) {
    base_buffer_text(out,
                     "@page{margin:12mm 12mm 16mm;font:9pt 'DejaVu Sans',Verdana,sans-serif;\n@bottom-left{content:");
    put_string(out, paper->title);
    base_buffer_text(out, "}\n@bottom-right{content:");
    put_string(out, paper->sheet_label);
    base_buffer_text(out, "\" \"counter(page)\" \"");
    put_string(out, paper->sheet_of);
    base_buffer_text(out, "\" \"counter(pages)}}\n");
}

static void put_rule(struct base_buffer *out, const char *attribute, const char *from, const char *to) {
    base_buffer_char(out, '[');
    base_buffer_text(out, attribute);
    base_buffer_text(out, "=\"");
    base_buffer_text(out, from);
    base_buffer_text(out, "\"]{");
    base_buffer_text(out, attribute);
    base_buffer_char(out, ':');
    base_buffer_text(out, to);
    base_buffer_char(out, '}');
}

/* The page and its figures, which are drawn for print, on another ground. Field and tint are white in print, as paper is. */
static void put_ground(struct base_buffer *out, enum draw_ground ground) {
    const char *const *to = draw_colours[ground], *const *from = draw_colours[DRAW_PRINT];
    base_buffer_text(out, "body{background:");
    base_buffer_text(out, to[DRAW_PAPER]);
    base_buffer_text(out, ";color:");
    base_buffer_text(out, to[DRAW_INK]);
    base_buffer_text(out, "}\n");
    for (int c = 0; ground != DRAW_PRINT && c < DRAW_COLOURS; c++) {
        if (c != DRAW_FIELD && c != DRAW_TINT) {
            put_rule(out, "fill", from[c], to[c]);
            put_rule(out, "stroke", from[c], to[c]);
        }
    }
}

/* The head of a job's papers, as paper.h has it: facts, and a number in a square. */
static const char band[] =
    ".band{display:flex;flex-wrap:wrap;gap:1em}.band dd{margin:0}\n"
    ".band dl{flex:1;display:grid;grid-template-columns:repeat(auto-fit,minmax(9em,1fr));margin:0}\n"
    ".number{border:1px solid;padding:.3em;min-width:6em;min-height:6em;overflow-wrap:anywhere}.number "
    "b{display:block}\n"
    "@media print{.number{min-width:0;min-height:0;width:20mm;height:20mm;box-sizing:border-box;font-size:7pt;"
    "overflow:hidden}}\n";

void paper_style(struct base_buffer *out, const struct paper *paper) {
    base_buffer_text(out, everywhere);
    base_buffer_text(out, band);
    base_buffer_text(out, on_a_phone);
    put_ground(out, DRAW_PRINT);
    base_buffer_text(out, "@media screen{");
    put_ground(out, DRAW_LIGHT);
    base_buffer_text(out, "}\n@media screen and (prefers-color-scheme:dark){");
    put_ground(out, DRAW_DARK);
    base_buffer_text(out, "}\n");
    base_buffer_text(out, in_print);
    put_margins(out, paper);
}
