/* SPDX-License-Identifier: Apache-2.0 */
/*
 * make-shop FOLDER SIZE [SEED] [--undominated] [--alike]: a made-up shop with so many parts, as data/demo/shop is laid
 * out.
 *
 * Of each kind a pool of classes is drawn first (shop.h), the same for every size; each part is one of them, the first
 * ones more often, so that the number of classes grows with the shop, to some ten thousand. Within a class dearer is
 * lighter, with scatter. The same seed, size and options give the same bytes.
 *
 *     --undominated   in a class no part is both as cheap and as light as another
 *     --alike         few classes, so that nearly all parts differ in price and mass only
 */
#define _POSIX_C_SOURCE 200809L

#include "shop.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#define POOL_ALL 12000 /* classes of all kinds together */
#define POOL_ALIKE 300
#define POOL_LEAST 4
#define TRIES 8 /* draws for each class that is wanted, before a kind counts as exhausted */
#define MASS_MOST 20000
#define TOTAL_SHARE 1000
#define SIZE_MOST 10000000

struct shop {
    const char *folder;
    uint64_t seed;
    unsigned size;
    bool undominated, alike;
};

/* One kind while it is written. */
struct shelf {
    const struct shop *shop;
    const struct shop_kind *kind;
    unsigned n; /* parts */
    struct shop_class *pool;
    unsigned n_pool;
    unsigned *members; /* of each class */
    unsigned *written;
};

static const char *const makers[] = {"Brumlic", "Dunvar",  "Grebbin", "Haldrum", "Karvane", "Mirrowan",
                                     "Orvash",  "Ottrick", "Pellmar", "Tarnel",  "Teskel",  "Wendrake"};

static void give_up(const char *what, const char *which) {
    fprintf(stderr, "make-shop: %s: %s\n", what, which);
    exit(2);
}

static void *room_for(size_t n, size_t size) {
    void *room = calloc(n, size);
    if (!room) {
        give_up("no memory", "classes");
    }
    return room;
}

/* --- classes ------------------------------------------------------------------------------------------------------- */

static bool is_known(const struct shelf *shelf, const struct shop_class *class) {
    for (unsigned i = 0; i < shelf->n_pool; i++) {
        if (memcmp(shelf->pool[i].cells, class->cells, sizeof class->cells) == 0) {
            return true;
        }
    }
    return false;
}

static void fill_pool(struct shelf *shelf) {
    unsigned wanted = (shelf->shop->alike ? POOL_ALIKE : POOL_ALL) * shelf->kind->share / TOTAL_SHARE;
    struct random_source random = {shelf->shop->seed * 1000 + shelf->kind->kind};
    wanted = wanted < POOL_LEAST ? POOL_LEAST : wanted;
    shelf->pool = room_for(wanted, sizeof *shelf->pool);
    for (unsigned tries = wanted * TRIES; tries > 0 && shelf->n_pool < wanted; tries--) {
        struct shop_class *class = &shelf->pool[shelf->n_pool];
        *class = (struct shop_class){0};
        shelf->kind->draw(class, &random);
        shelf->n_pool += !is_known(shelf, class);
    }
}

/* What decides of a part: its class, how dear it is among its like, and by how much that is missed. */
static struct random_source source_of(const struct shelf *shelf, unsigned part) {
    struct random_source random = {shelf->shop->seed ^ (uint64_t)shelf->kind->kind << 56 ^ (uint64_t)part << 24};
    return random;
}

static unsigned class_of(const struct shelf *shelf, struct random_source *random) {
    double share = random_between(random, 0, 1);
    return (unsigned)(shelf->n_pool * share * share);
}

/* --- parts --------------------------------------------------------------------------------------------------------- */

struct tag {
    long price_minor, mass_g;
};

/* Prices end in .00 or .95. */
static long price_of(double price, bool odd) { return lround(floor(price)) * 100 + (odd ? 95 : 0); }

static struct tag scattered(const struct shop_class *class, struct random_source *random) {
    double dear = random_between(random, 0, 1);
    double price = class->price * (0.55 + 1.9 * dear * dear) * random_between(random, 0.88, 1.12);
    double mass_g = class->mass_g * (1.2 - 0.4 * dear) * random_between(random, 0.96, 1.04);
    bool odd = random_int(random, 0, 1);
    return class->price > 0 ? (struct tag){price_of(fmax(price, 1), odd), lround(fmax(mass_g, 1))} : (struct tag){0, 0};
}

/* The k-th of n that get dearer and lighter. */
static struct tag undominated(const struct shop_class *class, unsigned k, unsigned n) {
    struct tag tag = {price_of(class->price * 0.55 + k / 2, k % 2), lround(class->mass_g) + (long)(n - k)};
    if (tag.mass_g > MASS_MOST) {
        give_up("more parts of a class than masses", class->stem);
    }
    return tag;
}

/* The properties that a shop's list states: all but the condition and what stands before them in a row. */
static bool is_stated(enum trade_property property) {
    static const char *const others[] = {"condition", "mass_g", "maker", "model", "note"};
    for (size_t i = 0; i < sizeof others / sizeof *others; i++) {
        if (strcmp(trade_property_rows[property].name, others[i]) == 0) {
            return false;
        }
    }
    return true;
}

static void write_header(FILE *out, enum trade_kind kind) {
    const struct trade_kind_row *row = &trade_kind_rows[kind];
    fputs("id,maker,model,price,mass_g,stock,days", out);
    for (unsigned i = 0; i < row->n; i++) {
        if (is_stated(row->first + i)) {
            fprintf(out, ",%s", trade_property_rows[row->first + i].name);
        }
    }
    fputc('\n', out);
}

static void write_part(FILE *out, struct shelf *shelf, unsigned part) {
    const struct trade_kind_row *row = &trade_kind_rows[shelf->kind->kind];
    struct random_source random = source_of(shelf, part);
    unsigned c = class_of(shelf, &random), stock = (unsigned)random_int(&random, 0, 6);
    const struct shop_class *class = &shelf->pool[c];
    const char *maker = makers[random_int(&random, 0, (int)(sizeof makers / sizeof *makers) - 1)];
    unsigned k = shelf->written[c]++;
    struct tag tag = shelf->shop->undominated ? undominated(class, k, shelf->members[c]) : scattered(class, &random);
    fprintf(out, "%s-%04u,%s,%s,%ld.%02ld,%ld,%u,%d", class->stem, part, maker, class->name, tag.price_minor / 100,
            tag.price_minor % 100, tag.mass_g, stock, stock ? 0 : random_int(&random, 1, 9));
    for (unsigned i = 0; i < row->n; i++) {
        if (is_stated(row->first + i)) {
            fprintf(out, ",%s", class->cells[i]);
        }
    }
    fputc('\n', out);
}

static FILE *create(const struct shop *shop, const char *name, const char *ending) {
    char path[4096];
    snprintf(path, sizeof path, "%s/%s%s", shop->folder, name, ending);
    FILE *out = fopen(path, "wb");
    if (!out) {
        give_up("can't write", path);
    }
    return out;
}

static void close_whole(FILE *out, const char *name) {
    bool whole = !ferror(out);
    if (fclose(out) != 0 || !whole) {
        give_up("can't write", name);
    }
}

static void write_kind(const struct shop *shop, const struct shop_kind *kind, unsigned n) {
    struct shelf shelf = {.shop = shop, .kind = kind, .n = n};
    const char *name = trade_kind_rows[kind->kind].name;
    FILE *out = create(shop, name, ".csv");
    fill_pool(&shelf);
    shelf.members = room_for(shelf.n_pool, sizeof *shelf.members);
    shelf.written = room_for(shelf.n_pool, sizeof *shelf.written);
    for (unsigned part = 0; part < n; part++) {
        struct random_source random = source_of(&shelf, part);
        shelf.members[class_of(&shelf, &random)]++;
    }
    write_header(out, kind->kind);
    for (unsigned part = 0; part < n; part++) {
        write_part(out, &shelf, part);
    }
    close_whole(out, name);
    free(shelf.pool);
    free(shelf.members);
    free(shelf.written);
}

static void write_shop(const struct shop *shop) {
    FILE *out = create(shop, "shop", ".json");
    fputs("{\n  \"currency\": \"GBP\",\n  \"rate_per_hour\": 48,\n  \"tax_percent\": 20,\n"
          "  \"prices_include_tax\": false\n}\n",
          out);
    close_whole(out, "shop.json");
    unsigned share = 0, before = 0;
    for (size_t i = 0; i < shop_kinds_n; i++) {
        share += shop_kinds[i].share;
        unsigned upto = (unsigned)((uint64_t)shop->size * share / TOTAL_SHARE);
        write_kind(shop, &shop_kinds[i], upto - before);
        before = upto;
    }
}

/* --- command line -------------------------------------------------------------------------------------------------- */

static uint64_t number_of(const char *text, uint64_t most) {
    char *end;
    unsigned long long number = strtoull(text, &end, 10);
    if (*text < '0' || *text > '9' || *end || number > most) {
        give_up("no such number", text);
    }
    return number;
}

/* The words that are no option: folder, size, seed. */
static void read_word(struct shop *shop, unsigned place, const char *word) {
    if (place == 0) {
        shop->folder = word;
    } else if (place == 1) {
        shop->size = (unsigned)number_of(word, SIZE_MOST);
    } else if (place == 2) {
        shop->seed = number_of(word, UINT64_MAX);
    } else {
        give_up("one word too many", word);
    }
}

int main(int argc, char **argv) {
    struct shop shop = {.seed = 1};
    unsigned n = 0;
    for (int i = 1; i < argc; i++) {
        if (strcmp(argv[i], "--undominated") == 0) {
            shop.undominated = true;
        } else if (strcmp(argv[i], "--alike") == 0) {
            shop.alike = true;
        } else {
            read_word(&shop, n++, argv[i]);
        }
    }
    if (n < 2) {
        give_up("usage", "make-shop FOLDER SIZE [SEED] [--undominated] [--alike]");
    }
    (void)mkdir(shop.folder, 0777); /* may be there; else the first file tells */
    write_shop(&shop);
    return 0;
}
