#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""What tools/compile-data writes says the same as the tables: the C is compiled with every warning as an error, told
back by a small program, and compared cell by cell. None of it may be writable."""
import os
import shlex
import subprocess
import tempfile

import tap

WARNINGS = "-std=c17 -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Werror".split()
CC = shlex.split(os.environ.get("CC", "cc"))
PROGRAM = r"""
#include "trade/tables.h"
#include <stdio.h>

static void tell_slots(const char *what, const char *name, uint32_t slots)
{
    for (size_t s = 0; s < TRADE_SLOTS; s++)
        if (slots >> s & 1)
            printf("%s\t%s\t%s\n", what, name, trade_slot_rows[s].name);
}

static const char *word(enum trade_domain domain, int at)
{
    return at < 0 ? "" : trade_domain_rows[domain].words[at].word;
}

static void tell_bench(const struct trade_bench_row *r)
{
    static const char *const whose[] = {"old", "new", "frame"};
    const char *hand = r->hand_by == TRADE_HAND_BY_TORQUE ? trade_torques[r->hand_at].name
                       : r->hand_by == TRADE_HAND_BY_THREAD ? trade_threads[r->hand_at].name
                       : r->hand_by == TRADE_HAND_BY_SHELL_DRIVE ? "shell_drive"
                       : r->hand_by == TRADE_HAND_BY_SHELL_OTHER ? "shell_other" : "";
    printf("bench\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%.17g\t%.17g\t%s\n", r->name, word(TRADE_DOMAIN_BENCH_PHASE, (int)r->phase),
           word(TRADE_DOMAIN_BENCH_IF, (int)r->when), word(TRADE_DOMAIN_BENCH_PLACE, (int)r->place),
           word(TRADE_DOMAIN_BENCH_POSITION, (int)r->position), hand, word(TRADE_DOMAIN_SURFACE, r->surface), r->low, r->high,
           r->source);
    tell_slots("off", r->name, r->off);
    tell_slots("on", r->name, r->on);
    for (size_t i = 0; i < 4 && r->pays[i] >= 0; i++)
        printf("pays\t%s\t%zu\t%s\n", r->name, i, trade_operation_rows[r->pays[i]].name);
    for (size_t b = 0; b < TRADE_BENCHES; b++)
        if (r->before[b / 64] >> (b % 64) & 1)
            printf("before\t%s\t%s\n", r->name, trade_bench_rows[b].name);
    for (size_t t = 0; t < TRADE_TOOLS; t++)
        if (r->tools >> t & 1)
            printf("holds\t%s\t%s\n", r->name, trade_tool_rows[t].name);
    for (size_t t = 0; t < 2; t++)
        if (r->torques[t] >= 0)
            printf("torque\t%s\t%s\n", r->name, trade_torques[r->torques[t]].name);
    for (size_t f = 0; f < r->n_facts; f++)
        printf("fact\t%s\t%s\t%s\t%s\t%d\t%llu\t%d\n", r->name, whose[r->facts[f].whose],
               r->facts[f].slot < 0 ? "" : trade_slot_rows[r->facts[f].slot].name,
               trade_property_rows[r->facts[f].property].name, r->facts[f].set, (unsigned long long)r->facts[f].words,
               r->facts[f].open);
}

int main(void)
{
    for (size_t i = 0; i < TRADE_PROPERTIES; i++) {
        const struct trade_property_row *p = &trade_property_rows[i];
        const char *domain = p->domain == TRADE_DOMAINS ? "" : trade_domain_rows[p->domain].name;
        printf("property\t%s\t%s\t%d\t%s\t%.17g\t%.17g\t%s\t%.17g\t%s\t%s\t%s\n", trade_kind_rows[p->kind].name,
               p->name, (int)p->type, p->unit, p->low, p->high, domain, p->fallback, p->label,
               trade_domain_rows[TRADE_DOMAIN_NEEDS_OFF].words[p->needs_off].word, p->measure);
        for (size_t u = 0; u < p->n_usual; u++)
            printf("usual\t%s\t%s\t%.17g\n", trade_kind_rows[p->kind].name, p->name, p->usual[u]);
    }
    for (size_t k = 0; k < TRADE_KINDS; k++)
        for (size_t i = 0; i < trade_kind_rows[k].n; i++)
            printf("in\t%s\t%s\n", trade_kind_rows[k].name, trade_property_rows[trade_kind_rows[k].first + i].name);
    for (size_t d = 0; d < TRADE_DOMAINS; d++)
        for (size_t i = 0; i < trade_domain_rows[d].n; i++)
            printf("word\t%s\t%s\t%s\t%s\n", trade_domain_rows[d].name, trade_domain_rows[d].words[i].word,
                   trade_domain_rows[d].words[i].label, trade_domain_rows[d].words[i].note);
    for (size_t i = 0; i < TRADE_SLOTS; i++) {
        const struct trade_slot_row *s = &trade_slot_rows[i];
        printf("slot\t%s\t%s\t%s\t%d\t%d\t%s\t%d\t%s\n", s->name, trade_kind_rows[s->kind].name, s->only,
               (int)s->absent, s->may_be_none, s->label, s->plural, s->what);
    }
    for (size_t i = 0; i < trade_operations_n; i++) {
        printf("operation\t%s\t%.17g\t%s\n", trade_operation_rows[i].name, trade_operation_rows[i].minutes,
               trade_operation_rows[i].label);
        tell_slots("does", trade_operation_rows[i].name, trade_operation_rows[i].slots);
        tell_slots("new", trade_operation_rows[i].name, trade_operation_rows[i].new_slots);
        tell_slots("had", trade_operation_rows[i].name,
                   trade_operation_rows[i].had < 0 ? 0 : UINT32_C(1) << trade_operation_rows[i].had);
        if (trade_operation_rows[i].had_property >= 0) {
            const struct trade_property_row *p = &trade_property_rows[trade_operation_rows[i].had_property];
            printf("which\t%s\t%s=%s\n", trade_operation_rows[i].name, p->name,
                   trade_domain_rows[p->domain].words[trade_operation_rows[i].had_word].word);
        }
        tell_slots("then", trade_operation_rows[i].name, trade_operation_rows[i].had_slots);
    }
    for (size_t i = 0; i < TRADE_SMALL_PARTS; i++) {
        const struct trade_small_part_row *p = &trade_small_part_rows[i];
        printf("small\t%s\t%s\t%s\n", p->name, trade_domain_rows[TRADE_DOMAIN_NEEDED_IF].words[p->needed_if].word,
               p->source);
        tell_slots("does", p->name, p->slots);
        tell_slots("new", p->name, p->new_slots);
        tell_slots("off", p->name, p->off_slots);
    }
    for (size_t b = 0; b < TRADE_BENCHES; b++)
        tell_bench(&trade_bench_rows[b]);
    for (size_t c = 0; c < TRADE_CHECKS; c++) {
        const struct trade_check_row *r = &trade_check_rows[c];
        printf("check\t%s\t%s\t%s\t%s\t%s\t%s\n", r->name, r->unit, r->low < 0 ? "" : trade_limits[r->low].name,
               r->high < 0 ? "" : trade_limits[r->high].name, word(TRADE_DOMAIN_CHECK_BY, (int)r->by), r->source);
        for (size_t b = 0; b < TRADE_BENCHES; b++)
            if (r->after[b / 64] >> (b % 64) & 1)
                printf("with\t%s\t%s\n", r->name, trade_bench_rows[b].name);
    }
    for (size_t t = 0; t < TRADE_TOOLS; t++)
        printf("tool\t%s\t%s\t%s\n", trade_tool_rows[t].name, word(TRADE_DOMAIN_TOOL_GROUP, (int)trade_tool_rows[t].group),
               trade_tool_rows[t].label);
@STANDARDS@
    printf("limit\t%s\n", trade_limits[TRADE_LIMIT_RING_TO_STAY_MM].name);
    return 0;
}
"""


def tell_table(name, columns, types):
    """C that prints the rows of one standards table."""
    lines = [f"    for (size_t i = 0; i < trade_{name}_n; i++) {{", f'        printf("{name}");']
    for column in columns:
        kind, cell = types[column], f"trade_{name}[i].{column}"
        if kind == "number":
            lines.append(f'        printf("\\t%.17g", {cell});')
        elif kind == "numbers":
            lines += ['        printf("\\t");', f"        for (size_t j = 0; j < {cell}_n; j++)",
                      f'            printf("%.17g;", {cell}[j]);']
        elif kind == "text":
            lines.append(f'        printf("\\t%s", {cell});')
        elif kind.startswith("words:"):
            lines.append(f'        printf("\\t%llu", (unsigned long long){cell});')
        else:
            lines.append(f'        printf("\\t%d", (int){cell});')
    return "\n".join(lines + ['        printf("\\n");', "    }"])


def number(text):
    """As C prints it; %.17g of the same double is the same text."""
    return "nan" if text == "" else "%.17g" % float(text)


words = {}
for row in tap.table("words"):
    words.setdefault(row["domain"], []).append(row["word"])
ABSENT = ["empty", "there", "several_rings"]
TYPES = ["number", "count", "word", "words", "counts", "tyre", "name"]
MARKS = ["seen", "calc", "cp", "mem", "mem-low"]


def value(row, text):
    return number(words[row["words"]].index(text)) if row["words"] and text else number(text)


def expected_vocabulary():
    rows = tap.table("vocabulary")
    kinds = list(dict.fromkeys(row["kind"] for row in rows if row["kind"] != "any"))
    told = []
    for kind in kinds:
        own = [row for row in rows if row["kind"] == kind]
        if kind not in ("bike", "frame", "wheel", "rider"):
            own += [row for row in rows if row["kind"] == "any"]
        for row in own:
            kind_of_value = "word" if row["type"] == "yes_no" else row["type"]
            told.append("\t".join(["property", kind, row["property"], str(TYPES.index(kind_of_value)), row["unit"],
                                   number(row["low"]), number(row["high"]), row["words"], value(row, row["default"]),
                                   row["label"], row["needs_off"], row["measure"]]))
            told += ["\t".join(["usual", kind, row["property"], value(row, item)]) for item in row["usual"].split()]
            told.append(f"in\t{kind}\t{row['property']}")
    return told


def expected_rest():
    told = ["\t".join(["word", row["domain"], row["word"], row["label"], row["note"]]) for row in tap.table("words")]
    for row in tap.table("slots"):
        told.append("\t".join(["slot", row["slot"], row["kind"], row["only"], str(ABSENT.index(row["absent"])),
                               str(int(row["may_be_none"] == "yes")), row["label"], str(int(row["plural"] == "yes")),
                               row["what"]]))
    for row in tap.table("operations"):
        told.append("\t".join(["operation", row["operation"], number(row["minutes"]), row["label"]]))
        had, _, which = row["had"].partition(".")
        for what, slots in (("does", row["slots"]), ("new", row["new_slots"]), ("had", had), ("then", row["had_slots"])):
            told += [f"{what}\t{row['operation']}\t{slot}" for slot in slots.split()]
        told += [f"which\t{row['operation']}\t{which}"] if which else []
    for row in tap.table("small_parts"):
        told.append("\t".join(["small", row["id"], row["needed_if"], row["source"]]))
        for what, column in (("does", "slots"), ("new", "new_slots"), ("off", "off_slots")):
            told += [f"{what}\t{row['id']}\t{slot}" for slot in row[column].split()]
    return told + ["limit\tring_to_stay_mm"]


def expected_fact(name, cell):
    whose, rest = cell.split(":") if ":" in cell else ("frame", cell.split(".", 1)[1])
    slot, left = rest.split(".") if whose != "frame" else ("", rest)
    sign = "!=" if "!=" in left else "="
    property_name, listed = left.split(sign)
    kind = "frame" if whose == "frame" else next(row["kind"] for row in tap.table("slots") if row["slot"] == slot)
    row = next(row for row in tap.table("vocabulary") if (row["kind"], row["property"]) == (kind, property_name))
    bits = sum(1 << words[row["words"]].index(word) for word in listed.split("/") if word != "?")
    is_open = "?" in listed.split("/")
    if sign == "!=":
        bits, is_open = (1 << len(words[row["words"]])) - 1 - bits, not is_open
    return "\t".join(["fact", name, whose, slot, property_name, str(int(row["type"] == "words")), str(bits), str(int(is_open))])


def expected_before(rows):
    """What comes before what, by Warshall's closure of the table's own `after`."""
    names = [row["operation"] for row in rows]
    before = {row["operation"]: {other["operation"] for other in rows
                                 if {other["operation"], other["gives"]} & set(row["after"].split())} for row in rows}
    for middle in names:
        for name in names:
            if middle in before[name]:
                before[name] |= before[middle]
    return [f"before\t{name}\t{other}" for name in names for other in before[name]]


def expected_bench():
    rows, told = tap.table("bench_operations"), []
    for row in rows:
        name = row["operation"]
        told.append("\t".join(["bench", name, row["phase"], row["if"] or "always", row["place"], row["position"], row["thread"],
                               row["surface"], number(row["low"]), number(row["high"]), row["source"]]))
        for what, column in (("off", "off"), ("on", "on"), ("holds", "tools"), ("torque", "torque")):
            told += [f"{what}\t{name}\t{item}" for item in row[column].split()]
        told += [f"pays\t{name}\t{i}\t{item}" for i, item in enumerate(row["pays"].split())]
        told += [expected_fact(name, fact) for fact in row["facts"].split()]
    for row in tap.table("bench_checks"):
        told.append("\t".join(["check", row["check"], row["unit"], row["low"], row["high"], row["by"], row["source"]]))
        told += [f"with\t{row['check']}\t{name}" for name in row["operations"].split()]
    told += ["\t".join(["tool", row["tool"], row["group"], row["label"]]) for row in tap.table("bench_tools")]
    return told + expected_before(rows)


def expected_standards(types):
    told = []
    for index in tap.table("standards/tables"):
        for row in tap.table("standards/" + index["table"]):
            cells = [index["table"]]
            for column, text in row.items():
                kind = types[column]
                if kind == "number":
                    cells.append(number(text))
                elif kind == "numbers":
                    cells.append("".join(number(item) + ";" for item in text.split()))
                elif kind == "text":
                    cells.append(text)
                elif kind == "mark":
                    cells.append(str(MARKS.index(text)))
                elif kind.startswith("words:"):
                    cells.append(str(sum(1 << words[kind[6:]].index(item) for item in text.split())))
                elif kind == "count":
                    cells.append(text or "-1")
                else:
                    cells.append(str(words[kind].index(text)) if text else "-1")
            told.append("\t".join(cells))
    return told


types = {row["column"]: row["type"] for row in tap.table("standards/columns")}
with tempfile.TemporaryDirectory() as folder:
    os.mkdir(os.path.join(folder, "trade"))
    header, source = os.path.join(folder, "trade", "tables.h"), os.path.join(folder, "tables.c")
    program, tell = os.path.join(folder, "tell"), os.path.join(folder, "tell.c")
    made = subprocess.run(tap.COMPILE + [tap.DATA, header, source, os.path.join(folder, "tables.d")],
                          capture_output=True, encoding="utf-8")
    tap.ok("the tables compile to C", [made.stderr] if made.returncode else [])
    with open(os.path.join(folder, "tables.d"), encoding="utf-8") as file:
        depends = file.read()
    tap.ok("what was read is named to the build", [name for name in ("words", "vocabulary", "slots", "operations", "small_parts", "bench_operations", "bench_checks", "bench_tools",
           "standards/tables", "standards/columns", "standards/tyres") if f"{tap.DATA}/{name}.csv" not in depends])
    standards = [tell_table(row["table"], tap.table("standards/" + row["table"])[0], types)
                 for row in tap.table("standards/tables")]
    with open(tell, "w", encoding="utf-8") as file:
        file.write(PROGRAM.replace("@STANDARDS@", "\n".join(standards)))
    built = subprocess.run(CC + WARNINGS + ["-I", folder, source, tell, "-o", program],
                           capture_output=True, encoding="utf-8")
    tap.ok("the C compiles with every warning as an error", built.stderr.splitlines() if built.returncode else [])
    told = subprocess.run([program], capture_output=True, encoding="utf-8").stdout.splitlines()
    with open(source, encoding="utf-8") as file:
        open_arrays = [line for line in file if line.endswith("= {\n") and "const " not in line]

want = expected_vocabulary() + expected_rest() + expected_bench() + expected_standards(types)
tap.ok("the program tells every cell of the tables, and nothing else",
       sorted(set(want) - set(told))[:5] + sorted(set(told) - set(want))[:5]
       + ([] if len(want) == len(told) else [f"{len(want)} lines expected, {len(told)} told"]))
# Properties stand in the order of the file, since first and n of a kind count on it.
tap.ok("in the order of the tables", [] if [line for line in told if line.startswith(("property", "word", "slot"))] ==
       [line for line in want if line.startswith(("property", "word", "slot"))] else ["the order differs"])
tap.ok("every array is const", open_arrays)
tap.end()
