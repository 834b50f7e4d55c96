#include "base/text.h"

#include "base/test.h"

struct world {
    struct arena arena;
    struct text text;
};

static int setup(void **state)
{
    static struct world world;
    arena_init(&world.arena, NULL);
    text_init(&world.text, &world.arena);
    *state = &world;
    return 0;
}

static int teardown(void **state)
{
    struct world *world = *state;
    arena_release(&world->arena);
    return 0;
}

static struct text *fresh(void **state)
{
    struct world *world = *state;
    text_clear(&world->text);
    return &world->text;
}

static void a_new_text_is_empty(void **state)
{
    struct text *text = fresh(state);
    assert_string_equal(text->bytes, "");
    assert_int_equal(text->length, 0);
}

static void pieces_are_joined_whatever_their_length(void **state)
{
    struct text *text = fresh(state);
    char expected[3001] = "";
    for (size_t i = 0; i < 1000; i++) {
        text_add(text, i % 2 ? "ab" : "cdef");
        strcat(expected, i % 2 ? "ab" : "cdef");
    }
    assert_int_equal(text->length, 3000);
    assert_string_equal(text->bytes, expected);

    text_clear(text);
    text_addf(text, "%d of %s", 7, "nine");
    text_add_bytes(text, 2, "xyz");
    text_add_repeat(text, 3, '-');
    text_add_repeat(text, 0, '-');
    text_add_bytes(text, 0, NULL);
    assert_string_equal(text->bytes, "7 of ninexy---");
    assert_int_equal(text->length, strlen(text->bytes));
}

static void one_large_piece_fits(void **state)
{
    struct text *text = fresh(state);
    text_addf(text, "%0100000d", 3);
    text_add_repeat(text, 200000, 'x');
    assert_int_equal(text->length, 300000);
    assert_int_equal(strlen(text->bytes), 300000);
    assert_int_equal(text->bytes[99999], '3');
    assert_int_equal(text->bytes[299999], 'x');
}

static void well_formed_utf8_is_told_from_faulty(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        int bad; /* -1: well-formed */
    } rows[] = {
        {"", -1},
        {"Kiefer 7", -1},
        {"\xc2\x80 \xdf\xbf \xe0\xa0\x80 \xef\xbf\xbd \xf0\x90\x80\x80 \xf4\x8f\xbf\xbf", -1},
        {"\xed\x9f\xbf\xee\x80\x80", -1},
        {"a\x80", 1},            /* a continuation alone */
        {"ab\xc3", 2},           /* cut short */
        {"ab\xe2\x82", 2},       /* cut short */
        {"\xf0\x9f\x8c", 0},     /* cut short */
        {"\xc3(", 0},            /* continuation missing */
        {"\xe2(\xa1", 0},        /* continuation missing */
        {"\xc0\x80", 0},         /* overlong NUL */
        {"x\xc1\xbf", 1},        /* overlong */
        {"\xe0\x9f\xbf", 0},     /* overlong */
        {"\xf0\x8f\xbf\xbf", 0}, /* overlong */
        {"\xed\xa0\x80", 0},     /* surrogate */
        {"\xed\xbf\xbf", 0},     /* surrogate */
        {"\xf4\x90\x80\x80", 0}, /* beyond U+10FFFF */
        {"\xf8\x88\x80\x80\x80", 0},
        {"\xff", 0},
        {"\xfe", 0},
        {"M\xfcller", 1}, /* Latin-1 */
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        size_t bad = 99;
        bool fine = text_is_utf8(strlen(rows[i].text), rows[i].text, &bad);
        if (fine != (rows[i].bad < 0) || bad != (fine ? 99 : (size_t)rows[i].bad))
            fail_msg("row %zu: %d at %zu", i, fine, bad);
        assert_int_equal(text_is_utf8(strlen(rows[i].text), rows[i].text, NULL), fine);
    }
    assert_true(text_is_utf8(3, "a\0b", NULL));      /* NUL is the reader's business */
    assert_false(text_is_utf8(1, "\xc3\xa9", NULL)); /* the length is kept to */
}

/* Encoder written for this test only. */
static size_t encode(uint32_t point, char bytes[5])
{
    size_t size = point < 0x80 ? 1 : point < 0x800 ? 2 : point < 0x10000 ? 3 : 4;
    static const unsigned lead[] = {0, 0, 0xc0, 0xe0, 0xf0};
    for (size_t i = size; i-- > 1; point >>= 6)
        bytes[i] = (char)(0x80 | (point & 0x3f));
    bytes[0] = (char)(lead[size] | point);
    bytes[size] = '\0';
    return size;
}

static void every_code_point_is_well_formed_and_no_surrogate_is(void **state)
{
    (void)state;
    for (uint32_t point = 0; point <= 0x10ffff; point++) {
        char bytes[5];
        size_t size = encode(point, bytes);
        bool surrogate = point >= 0xd800 && point <= 0xdfff;
        if (text_is_utf8(size, bytes, NULL) == surrogate)
            fail_msg("U+%04X", (unsigned)point);
    }
}

static void foreign_text_is_made_harmless(void **state)
{
    static const struct {
        const char *value, *shown;
    } rows[] = {
        {"", ""},
        {"plain, \"quoted\" \\ text", "plain, \"quoted\" \\ text"},
        {"Lärche Nr. 7 – 松", "Lärche Nr. 7 – 松"},
        {"\x1b[2J", "\\x1b[2J"},
        {"\x1b]52;c;ZXZpbA==\x07", "\\x1b]52;c;ZXZpbA==\\x07"},
        {"a\rb\nc\td\x7f", "a\\x0db\\x0ac\\x09d\\x7f"},
        {"\x9b"
         "2J",
         "\\x9b2J"}, /* C1 as a raw byte */
        {"\xc2\x9b"
         "2J",
         "\\u{009B}2J"},           /* C1 as a code point */
        {"\xc2\x85", "\\u{0085}"}, /* next line */
        {"\xe2\x80\xae"
         "4102",
         "\\u{202E}4102"}, /* right-to-left override */
        {"\xe2\x80\xaa\xe2\x80\xab\xe2\x80\xac\xe2\x80\xad",
         "\\u{202A}\\u{202B}\\u{202C}\\u{202D}"},
        {"\xe2\x81\xa6\xe2\x81\xa7\xe2\x81\xa8\xe2\x81\xa9",
         "\\u{2066}\\u{2067}\\u{2068}\\u{2069}"},
        {"\xe2\x80\x8e\xe2\x80\x8f", "\\u{200E}\\u{200F}"},
        {"\xe2\x80\xa8\xe2\x80\xa9", "\\u{2028}\\u{2029}"},
        {"A\xe2\x80\x8b"
         "12\xef\xbb\xbf",
         "A\\u{200B}12\\u{FEFF}"}, /* unseen characters */
        {"M\xfcller", "M\\xfcller"},
        {"\xed\xa0\x80", "\\xed\\xa0\\x80"},
        {"\xe2\x82", "\\xe2\\x82"},
        {"\xf0\x9f\x8c\xb2", "\xf0\x9f\x8c\xb2"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct text *text = fresh(state);
        text_add_printable(text, rows[i].value);
        assert_string_equal(text->bytes, rows[i].shown);
    }
}

static bool is_control(uint32_t point)
{
    return point < 0x20 || (point >= 0x7f && point < 0xa0);
}

static void no_two_bytes_get_a_control_character_through(void **state)
{
    for (unsigned first = 1; first < 256; first++)
        for (unsigned second = 1; second < 256; second++) {
            struct text *text = fresh(state);
            char value[] = {(char)first, (char)second, '\0'};
            text_add_printable(text, value);
            assert_true(text_is_utf8(text->length, text->bytes, NULL));
            for (const char *at = text->bytes; *at; at++)
                assert_false((unsigned char)*at < 0x20 || *at == 0x7f);
            for (uint32_t c1 = 0x80; c1 < 0xa0; c1++) {
                char bytes[5];
                encode(c1, bytes);
                assert_null(strstr(text->bytes, bytes));
            }
        }
}

static void showing_twice_changes_nothing(void **state)
{
    struct world *world = *state;
    for (uint32_t point = 1; point <= 0x10ffff; point += point < 0x3000 ? 1 : 97) {
        if (point >= 0xd800 && point <= 0xdfff)
            continue;
        char bytes[5];
        encode(point, bytes);
        struct text *once = fresh(state), twice;
        text_add_printable(once, bytes);
        if (is_control(point))
            assert_int_equal(once->bytes[0], '\\');
        text_init(&twice, &world->arena);
        text_add_printable(&twice, once->bytes);
        assert_string_equal(once->bytes, twice.bytes);
        assert_int_equal(text_columns(bytes), text_columns(once->bytes));
    }
}

static void display_columns_are_counted(void **state)
{
    (void)state;
    assert_int_equal(text_columns(""), 0);
    assert_int_equal(text_columns("Kiefer"), 6);
    assert_int_equal(text_columns("Lärche"), 6);
    assert_int_equal(text_columns("La\xcc\x88rche"), 6); /* a and a combining diaeresis */
    assert_int_equal(text_columns("松"), 2);
    assert_int_equal(text_columns("ﾏﾂ"), 2); /* half-width */
    assert_int_equal(text_columns("소나무"), 6);
    assert_int_equal(text_columns("–…°"), 3);
    assert_int_equal(text_columns("a\x1b"), 5);
    assert_int_equal(text_columns("M\xfcller"), 9);
}

static void columns_are_cut_and_padded(void **state)
{
    static const struct {
        const char *value;
        size_t columns;
        const char *left, *right;
    } rows[] = {
        {"abc", 5, "abc  ", "  abc"},
        {"abc", 3, "abc", "abc"},
        {"abc", 2, "a~", "a~"},
        {"abc", 1, "~", "~"},
        {"abc", 0, "", ""},
        {"", 2, "  ", "  "},
        {"", 0, "", ""},
        {"Lärche", 7, "Lärche ", " Lärche"},
        {"Lärche", 3, "Lä~", "Lä~"},
        {"松松松", 6, "松松松", "松松松"},
        {"松松松", 5, "松松~", "松松~"},
        {"松松松", 4, "松~ ", "松~ "}, /* half of a wide one cannot be shown */
        {"松", 1, "~", "~"},
        {"a\nb", 7, "a\\x0ab ", " a\\x0ab"},
        {"a\nb", 4, "a~  ", "a~  "}, /* an escape is not cut in two */
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct text *text = fresh(state);
        text_add_left(text, rows[i].columns, rows[i].value);
        assert_string_equal(text->bytes, rows[i].left);
        text = fresh(state);
        text_add_right(text, rows[i].columns, rows[i].value);
        assert_string_equal(text->bytes, rows[i].right);
    }
}

static void text_is_cut_between_characters(void **state)
{
    static const struct {
        const char *value;
        size_t columns;
        const char *cut;
    } rows[] = {
        {"abc", 4, "abc"}, {"abc", 3, "abc"},  {"abc", 2, "a…"},       {"abc", 1, "…"},
        {"abc", 0, ""},    {"", 0, ""},        {"Lärche", 3, "Lä…"},   {"松松", 3, "松…"},
        {"松松", 2, "…"},  {"a\x1b", 4, "a…"}, {"a\x1b", 5, "a\\x1b"}, {"松松", 4, "松松"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct text *text = fresh(state);
        text_add_cut(text, rows[i].columns, rows[i].value);
        assert_string_equal(text->bytes, rows[i].cut);
    }
}

static const char *fold(void **state, const char *identifier)
{
    struct text *text = fresh(state);
    text_add_folded(text, identifier);
    return text->bytes;
}

static void identifiers_fold_to_what_they_share(void **state)
{
    static const struct {
        const char *identifier, *folded;
    } rows[] = {
        {"", ""},          {"A12", "a12"},      {"a12", "a12"},    {"A-12", "a12"},
        {" A 12 ", "a12"}, {"A_012", "a12"},    {"A0012", "a12"},  {"A120", "a120"},
        {"A0", "a0"},      {"A000", "a0"},      {"0012", "12"},    {"1-05", "1-5"},
        {"1_5", "1-5"},    {"1 - 5", "1-5"},    {"1-11", "1-11"},  {"11-1", "11-1"},
        {"111", "111"},    {"B-2-07", "b2-7"},  {"A\t1", "a1"},    {"-7-", "7"},
        {"---", ""},       {"10A02B", "10a2b"}, {"A1.05", "a1.5"}, {"Ä-1", "Ä1"},
        {"1-A-1", "1a1"},  {"00", "0"},         {"0-0", "0-0"},    {"A01/02", "a1/2"},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        assert_string_equal(fold(state, rows[i].identifier), rows[i].folded);
}

static void folding_twice_changes_nothing(void **state)
{
    static const char letters[] = "0015Aa-_ .";
    for (unsigned n = 0; n < 100000; n++) {
        char identifier[6] = "";
        for (unsigned rest = n, i = 0; i < 5; i++, rest /= 10)
            identifier[i] = letters[rest % 10];
        char once[16], twice[16];
        snprintf(once, sizeof once, "%s", fold(state, identifier));
        snprintf(twice, sizeof twice, "%s", fold(state, once));
        assert_string_equal(once, twice);
    }
}

static void the_nearest_word_is_offered(void **state)
{
    (void)state;
    static const char *const words[] = {"clone", "clones", "site", "date", "tree", "crown"};
    static const struct {
        const char *word, *nearest;
    } rows[] = {
        {"clone", "clone"},   {"clnoe", "clone"}, {"cloness", "clones"},
        {"Clone", "clone"},   {"CLONE", "clone"}, {"sites", "site"},
        {"ste", "site"},      {"tere", "tree"},   {"crwon", "crown"},
        {"xyzzy", NULL},      {"", NULL},         {"x", NULL},
        {"clonesites", NULL}, {"dote", "date"},   {"sate", "site"},
        {"tr", NULL},         {"tre", "tree"},    {"cl", NULL},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        const char *nearest = text_nearest(rows[i].word, COUNT(words), words);
        if (!rows[i].nearest && nearest)
            fail_msg("'%s' gives '%s'", rows[i].word, nearest);
        if (rows[i].nearest) {
            assert_non_null(nearest);
            assert_string_equal(nearest, rows[i].nearest);
        }
    }
    assert_null(text_nearest("clone", 0, NULL));
}

static void very_long_words_are_near_nothing(void **state)
{
    (void)state;
    char longer[200];
    memset(longer, 'a', sizeof longer);
    longer[199] = '\0';
    const char *const words[] = {longer, "date"};
    assert_null(text_nearest(longer, 2, words));
    assert_string_equal(text_nearest("dat", 2, words), "date");
    longer[63] = '\0';
    assert_ptr_equal(text_nearest(longer, 2, words), longer);
}

static void long_text_is_wrapped(void **state)
{
    static const struct {
        const char *head, *value;
        size_t columns, indent;
        const char *wrapped;
    } rows[] = {
        {"", "", 10, 2, ""},
        {"", "   ", 10, 2, ""},
        {"", "one two", 10, 2, "one two"},
        {"", "one two three", 10, 2, "one two\n  three"},
        {"", "  one   two  ", 10, 2, "one two"},
        {"", "abcde fghi j", 10, 0, "abcde fghi\nj"},
        {"", "abcde fghij k", 10, 0, "abcde\nfghij k"},
        {"why: ", "one two three", 10, 5, "why: one\n     two\n     three"},
        {"first line\nx ", "one two", 5, 0, "first line\nx one\ntwo"},
        {"a long head ", "one", 10, 2, "a long head \n  one"},
        {"", "abcdefghijkl m", 5, 2, "abcde\n  fgh\n  ijk\n  l m"},
        {"", "a bcdefghijkl", 5, 2, "a\n  bcd\n  efg\n  hij\n  kl"},
        {"", "abcd efghij", 10, 4, "abcd\n    efghij"},
        {"", "Lärche für dich", 7, 0, "Lärche\nfür\ndich"},
        {"", "松松松", 4, 0, "松松\n松"},
        {"", "a\nb c", 6, 0, "a\\x0ab\nc"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct text *text = fresh(state);
        text_add(text, rows[i].head);
        text_add_wrapped(text, rows[i].columns, rows[i].indent, rows[i].value);
        assert_string_equal(text->bytes, rows[i].wrapped);
    }
}

static void wrapped_lines_lose_nothing_and_keep_their_width(void **state)
{
    static const char value[] = "bag the crown on the north side, then mark it; Lärchen von 松松 "
                                "averylongwordwithoutanyblankinit and so on";
    for (size_t columns = 4; columns < 90; columns++)
        for (size_t indent = 0; indent + 2 <= columns && indent < 9; indent++) {
            struct text *text = fresh(state);
            text_add_wrapped(text, columns, indent, value);

            const char *at = value;
            char *rest = NULL;
            for (char *line = strtok_r(text->bytes, "\n", &rest); line;
                 line = strtok_r(NULL, "\n", &rest)) {
                assert_true(text_columns(line) <= columns);
                for (; *line; line++) {
                    if (*line == ' ')
                        continue;
                    at += strspn(at, " ");
                    assert_int_equal(*line, *at++);
                }
            }
            assert_int_equal(*at, '\0');
        }
}

int main(void)
{
#define TEST(name) cmocka_unit_test_setup_teardown(name, setup, teardown)
    const struct CMUnitTest tests[] = {
        TEST(a_new_text_is_empty),
        TEST(pieces_are_joined_whatever_their_length),
        TEST(one_large_piece_fits),
        TEST(well_formed_utf8_is_told_from_faulty),
        TEST(every_code_point_is_well_formed_and_no_surrogate_is),
        TEST(foreign_text_is_made_harmless),
        TEST(no_two_bytes_get_a_control_character_through),
        TEST(showing_twice_changes_nothing),
        TEST(display_columns_are_counted),
        TEST(columns_are_cut_and_padded),
        TEST(text_is_cut_between_characters),
        TEST(identifiers_fold_to_what_they_share),
        TEST(folding_twice_changes_nothing),
        TEST(the_nearest_word_is_offered),
        TEST(very_long_words_are_near_nothing),
        TEST(long_text_is_wrapped),
        TEST(wrapped_lines_lose_nothing_and_keep_their_width),
    };
    return cmocka_run_group_tests_name("text", tests, NULL, NULL) != 0;
}
