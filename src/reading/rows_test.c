#include "reading/rows.h"

#include "base/test.h"
#include "reading/reading.h"

#include <sys/resource.h>

/* All rows of a text as one line each: "2-3: a|b", then what was told. */
struct result {
    struct arena arena;
    struct diags diags;
    struct text text;
};

struct chunks {
    struct memory_source memory;
    size_t size;
};

static long read_chunk(void *context, size_t size, char *bytes)
{
    struct chunks *chunks = context;
    struct memory_source *memory = &chunks->memory;
    size_t left = memory->length - memory->given;
    size_t count = size < chunks->size ? size : chunks->size;
    count = count < left ? count : left;
    memcpy(bytes, memory->bytes + memory->given, count);
    memory->given += count;
    return (long)count;
}

static void add_row(struct text *text, const struct row *row)
{
    text_addf(text, "%u", row->first_line);
    if (row->last_line != row->first_line)
        text_addf(text, "-%u", row->last_line);
    for (size_t i = 0; i < row->count; i++)
        text_addf(text, "%s%s%s", i == 0 ? ": " : "|", row->cells[i].bad ? "BAD" : "",
                  row->cells[i].text);
    text_add(text, "\n");
}

static void read_all(struct result *result, const struct source *source)
{
    arena_init(&result->arena, NULL);
    diags_init(&result->diags, &result->arena);
    text_init(&result->text, &result->arena);
    struct arena scratch;
    arena_init(&scratch, NULL);
    struct rows *rows = rows_open(source, source->name, &scratch, &result->diags);
    struct row row;
    if (rows_header(rows, &row)) {
        do
            add_row(&result->text, &row);
        while (rows_next(rows, &row));
    }
    if (rows_failed(rows))
        text_add(&result->text, "FAILED\n");
    diags_sort(&result->diags);
    diags_write(&result->diags, &result->text);
    arena_release(&scratch);
}

static void read_text(struct result *result, size_t length, const char *text, size_t chunk)
{
    struct chunks chunks = {{.bytes = text, .length = length}, chunk};
    struct source source = {.name = "t.csv", .context = &chunks, .read = read_chunk};
    read_all(result, &source);
}

static void expect_bytes(size_t length, const char *text, const char *expected)
{
    struct result result;
    read_text(&result, length, text, SIZE_MAX);
    assert_string_equal(result.text.bytes, expected);
    arena_release(&result.arena);
}

static void expect(const char *text, const char *expected)
{
    expect_bytes(strlen(text), text, expected);
}

static void plain_rows_have_their_lines(void **state)
{
    (void)state;
    expect("a,b\n1,2\n\n3,4\n", "1: a|b\n2: 1|2\n4: 3|4\n");
    expect("a,b\n1,2", "1: a|b\n2: 1|2\n");
    expect("a,b\r\n1,2\r\n \t \r\n3,4\r\n", "1: a|b\n2: 1|2\n4: 3|4\n");
    expect("\xef\xbb\xbf"
           "a,b\r\n1,2\n",
           "1: a|b\n2: 1|2\n");
    expect("\xef\xbb\xbf\"a\",b\n", "1: a|b\n");
    expect("\n\na,b\n1,\n", "3: a|b\n4: 1|\n");
}

static void blanks_around_unquoted_cells_go_and_inside_quotes_stay(void **state)
{
    (void)state;
    expect("a,b\n  1 ,\t2\t\n\" 1 \",\"\"\n", "1: a|b\n2: 1|2\n3:  1 |\n");
    expect("a,b\n\"x\"  ,2\n", "1: a|b\n2: x|2\n");
}

static void rows_of_blank_cells_are_passed_over(void **state)
{
    (void)state;
    expect("a,b\n,\n,,,\n1,2\n", "1: a|b\n4: 1|2\n");
}

static void the_header_decides_the_delimiter(void **state)
{
    (void)state;
    expect("a;b\n1,5;2\n", "1: a|b\n2: 1,5|2\n");
    expect("a\tb\tc\n1\t\t2, 3\n", "1: a|b|c\n2: 1||2, 3\n");
    expect("\"x;y;z\",b\n1;2,3\n", "1: x;y;z|b\n2: 1;2|3\n");
    expect("a\n1;2\n", "1: a\n2: 1;2\n");
}

static void quoted_line_breaks_keep_the_count_of_lines(void **state)
{
    (void)state;
    expect("a,b\n1,\"x\ny\"\n2,z\n", "1: a|b\n2-3: 1|x\ny\n4: 2|z\n");
    expect("a,b\r\n1,\"x\r\n\r\ny\"\r\n2,z\r\n", "1: a|b\n2-4: 1|x\n\ny\n5: 2|z\n");
    expect("a,b\n1,\"say \"\"no\"\"\"\n", "1: a|b\n2: 1|say \"no\"\n");
}

static void one_apostrophe_before_a_formula_sign_is_taken_off(void **state)
{
    (void)state;
    expect("a,b,c\n'=1,'-x,''=\n'@,'+,'x\n\"'\ty\",',\n",
           "1: a|b|c\n2: =1|-x|'=\n3: @|+|'x\n4: \ty|'|\n");
}

/* A quoted cell at its end sends a line through libcsv; without it the line is cut in place. */
static void plain_lines_are_cut_as_libcsv_would(void **state)
{
    (void)state;
    static const char alphabet[] = "ab  ,,\t'=-";
    struct arena arena;
    struct text plain, quoted;
    arena_init(&arena, NULL);
    text_init(&plain, &arena);
    text_init(&quoted, &arena);
    text_add(&plain, "a,b\n");
    text_add(&quoted, "a,b\n");
    uint32_t random = 1;
    for (int round = 0; round < 20000; round++) {
        char line[13] = "";
        for (size_t i = 0; i + 1 < sizeof line; i++) {
            random = random * 1664525u + 1013904223u;
            line[i] = alphabet[(random >> 16) % (sizeof alphabet - 1)];
        }
        text_addf(&plain, "x%s,end\n", line);
        text_addf(&quoted, "x%s,\"end\"\n", line);
    }
    struct result cut, parsed;
    read_text(&cut, plain.length, plain.bytes, SIZE_MAX);
    read_text(&parsed, quoted.length, quoted.bytes, SIZE_MAX);
    assert_string_equal(cut.text.bytes, parsed.text.bytes);
    arena_release(&cut.arena);
    arena_release(&parsed.arena);
    arena_release(&arena);
}

static void a_stray_quote_costs_its_row_only(void **state)
{
    (void)state;
    expect("a,b\n1,x\"y\n2,z\n",
           "1: a|b\n3: 2|z\n"
           "t.csv:2:2: error: a double quote inside a cell, before byte 4 of the line, expected "
           "quotes around the whole cell and \"\" for one inside; the row was left out "
           "[stray-quote]\n");
    expect("a,b\n\"1\"x,y\n2,z\n",
           "1: a|b\n3: 2|z\n"
           "t.csv:2:1: error: a double quote inside a cell, before byte 4 of the line, expected "
           "quotes around the whole cell and \"\" for one inside; the row was left out "
           "[stray-quote]\n");
}

static void an_open_quote_is_told_where_it_opens_and_costs_its_row_only(void **state)
{
    (void)state;
    expect("a,b\n1,\"x\n2,y\n3,z\n",
           "1: a|b\n3: 2|y\n4: 3|z\n"
           "t.csv:2:2: error: a quoted cell begins here and never ends, expected a closing quote; "
           "the row was left out [open-quote]\n");
    expect("a,b\n1,\"x\n2,y\n3,\"z\"\n4,w\n",
           "1: a|b\n3: 2|y\n4: 3|z\n5: 4|w\n"
           "t.csv:2:2: error: a quoted cell begins here and its quote ends inside line 4, expected "
           "it before the delimiter or line end; the row was left out [open-quote]\n");
    /* the first quoted cell of the row ends well: reading goes on after the line of the second */
    expect("a,b\n\"x\ny\",\"z\n2,w\n",
           "1: a|b\n4: 2|w\n"
           "t.csv:3:2: error: a quoted cell begins here and never ends, expected a closing quote; "
           "the row was left out [open-quote]\n");
    expect("a,b\n1,\"", "1: a|b\nt.csv:2:2: error: a quoted cell begins here and never ends, "
                        "expected a closing quote; the row was left out [open-quote]\n");
}

static void bytes_that_are_no_text_are_told_with_their_cell(void **state)
{
    (void)state;
    expect("a,b\nx,M\xfcller\n",
           "1: a|b\n2: x|BAD\n"
           "t.csv:2:2: error: byte 0xfc, byte 2 of the cell, is not UTF-8, save the file as UTF-8 "
           "[not-utf8]\n");
    expect_bytes(12, "a,b\nx\0y,z\n1,",
                 "1: a|b\n2: BAD|z\n3: 1|\n"
                 "t.csv:2:1: error: control character 0x00, byte 2 of the "
                 "cell, expected plain text, remove it "
                 "[control-character]\n");
    expect("a,b\n\x1b[2J,\xc2\x9b\n",
           "1: a|b\n2: BAD|BAD\n"
           "t.csv:2:1: error: control character 0x1b, byte 1 of the cell, expected plain text, "
           "remove it [control-character]\n"
           "t.csv:2:2: error: control character 0xc2, byte 1 of the cell, expected plain text, "
           "remove it [control-character]\n");
    expect("a,b\nM\xc3\xbcller,z\n", "1: a|b\n2: M\xc3\xbcller|z\n");
}

static void a_lone_carriage_return_is_told(void **state)
{
    (void)state;
    expect("a,b\n1,x\ry\n2,\"v\rw\"\n3,z\n",
           "1: a|b\n2: 1|BAD\n3: 2|BAD\n4: 3|z\n"
           "t.csv:2:2: error: a carriage return without a line feed, byte 2 of the cell, save the "
           "file with line ends LF or CR LF [lone-carriage-return]\n"
           "t.csv:3:2: error: a carriage return without a line feed, byte 2 of the cell, save the "
           "file with line ends LF or CR LF [lone-carriage-return]\n");
}

static void a_file_without_a_header_is_told(void **state)
{
    (void)state;
    expect("", "t.csv: error: the file is empty, expected a first line with the names of the "
               "columns [no-header]\n");
    expect("\xef\xbb\xbf", "t.csv: error: the file is empty, expected a first line with the names "
                           "of the columns [no-header]\n");
    expect("\n \n", "t.csv: error: the file is blank, expected a first line with the names of the "
                    "columns [no-header]\n");
    expect(",,\n1,2\n", "t.csv:1: error: a line of blank cells, expected the names of the columns "
                        "[no-header]\n");
    expect("a,\"b\n1,2\n", "t.csv:1:2: error: a quoted cell begins here and never ends, expected a "
                           "closing quote; the row was left out [open-quote]\n");
}

static void any_size_of_chunk_gives_the_same_rows(void **state)
{
    (void)state;
    static const char text[] = "\xef\xbb\xbf"
                               "a,b\r\n1,\"x\r\ny\"\r\n\r\n'=2,M\xc3\xbcller\r\n3,q\"\r\n4,\"w\n5,"
                               "v\r\n6,\xff\r7,\"\"\"u\"\"\"\r\n";
    struct result whole;
    read_text(&whole, sizeof text - 1, text, SIZE_MAX);
    for (size_t size = 1; size < sizeof text; size++) {
        struct result parts;
        read_text(&parts, sizeof text - 1, text, size);
        assert_string_equal(parts.text.bytes, whole.text.bytes);
        arena_release(&parts.arena);
    }
    arena_release(&whole.arena);
}

static void a_file_cut_off_anywhere_keeps_its_whole_rows_or_tells(void **state)
{
    (void)state;
    static const char text[] = "a,b\n1,\"x\ny\"\n2,\"say \"\"no\"\"\"\n3,z\n";
    for (size_t length = 4; length < sizeof text; length++) {
        struct result result;
        read_text(&result, length, text, SIZE_MAX);
        if (length >= 11)
            assert_non_null(strstr(result.text.bytes, "\n2-3: 1|x\ny"));
        else if (length > 6)
            assert_true(result.diags.errors == 1);
        if (length >= 26)
            assert_non_null(strstr(result.text.bytes, "\n4: 2|say \"no\""));
        arena_release(&result.arena);
    }
}

/* ---- size ----------------------------------------------------------------------------------- */

#define X16 "xxxxxxxxxxxxxxxx"
#define X64 X16 X16 X16 X16

/* `head`, then `length` bytes of `body` again and again, then `tail`. */
struct endless {
    const char *head, *body, *tail;
    size_t length, given;
};

static long read_endless(void *context, size_t size, char *bytes)
{
    struct endless *endless = context;
    size_t head = strlen(endless->head), body = strlen(endless->body), tail = strlen(endless->tail);
    size_t total = head + endless->length + tail, count = 0;
    while (count < size && endless->given < total) {
        size_t at = endless->given, piece = 1;
        if (at < head) {
            bytes[count] = endless->head[at];
        } else if (at >= head + endless->length) {
            bytes[count] = endless->tail[at - head - endless->length];
        } else {
            size_t from = (at - head) % body, left = head + endless->length - at;
            piece = body - from < left ? body - from : left;
            piece = piece < size - count ? piece : size - count;
            memcpy(bytes + count, endless->body + from, piece);
        }
        count += piece;
        endless->given += piece;
    }
    return (long)count;
}

/* The address sanitizer and its like keep memory of their own. */
#if defined(__SANITIZE_ADDRESS__)
#define RESIDENT_COUNTS false
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define RESIDENT_COUNTS false
#endif
#endif
#ifndef RESIDENT_COUNTS
#define RESIDENT_COUNTS true
#endif

static long resident_kib(void)
{
    struct rusage usage;
    assert_int_equal(getrusage(RUSAGE_SELF, &usage), 0);
    return usage.ru_maxrss;
}

static void expect_endless(struct endless endless, const char *expected)
{
    struct source source = {.name = "t.csv", .context = &endless, .read = read_endless};
    struct result result;
    long before = resident_kib();
    read_all(&result, &source);
    assert_string_equal(result.text.bytes, expected);
    arena_release(&result.arena);
    assert_true(!RESIDENT_COUNTS || resident_kib() - before < 1024);
}

static void a_line_of_100_mb_is_refused_in_1_mib(void **state)
{
    (void)state;
    expect_endless((struct endless){"a,b\n1,", X64, "\n2,z\n", 100000000, 0},
                   "1: a|b\n3: 2|z\n"
                   "t.csv:2: error: a line of more than 262144 bytes, expected at most that; is it "
                   "a table? the line was left out [line-too-long]\n");
    expect_endless((struct endless){"a,b\n1,\"", X64, "\"\n2,z\n", 100000000, 0},
                   "1: a|b\n3: 2|z\n"
                   "t.csv:2: error: a line of more than 262144 bytes, expected at most that; is it "
                   "a table? the line was left out [line-too-long]\n");
    expect_endless((struct endless){"", X64, "", 100000000, 0},
                   "t.csv:1: error: a line of more than 262144 bytes, expected at most that; is it "
                   "a table? the line was left out [line-too-long]\n");
}

static void a_quoted_cell_over_many_lines_is_refused_in_1_mib(void **state)
{
    (void)state;
    expect_endless(
        (struct endless){"a,b\n1,\"", "\n", "\n2,z\n", 10000000, 0},
        "1: a|b\n10000003: 2|z\n"
        "t.csv:2:2: error: a cell of more than 65536 bytes begins here, expected at most "
        "that; is a quote not closed? the row was left out [cell-too-long]\n");
}

static void a_cell_of_64_kib_is_the_longest(void **state)
{
    (void)state;
    struct endless endless = {"a,b\n1,\"", "x", "\"\n2,z\n", READING_CELL_BYTES_MOST, 0};
    struct source source = {.name = "t.csv", .context = &endless, .read = read_endless};
    struct result result;
    read_all(&result, &source);
    assert_int_equal(result.diags.errors, 0);
    assert_non_null(strstr(result.text.bytes, "\n3: 2|z\n"));
    arena_release(&result.arena);
    endless.length++;
    endless.given = 0;
    read_all(&result, &source);
    assert_int_equal(result.diags.errors, 1);
    assert_string_equal(result.diags.list[0].code, "cell-too-long");
    assert_non_null(strstr(result.text.bytes, "\n3: 2|z\n"));
    arena_release(&result.arena);
}

static void a_row_of_many_long_cells_is_refused(void **state)
{
    (void)state;
    struct endless endless = {"a\n", "\"xxxxxxxxxxxxxxxxxxxxxxxxxxx\n\",", "\n2\n", 400000, 0};
    struct source source = {.name = "t.csv", .context = &endless, .read = read_endless};
    struct result result;
    read_all(&result, &source);
    assert_true(result.diags.errors > 0);
    assert_string_equal(result.diags.list[0].code, "row-too-long");
    arena_release(&result.arena);
}

static void a_row_of_too_many_cells_is_told(void **state)
{
    (void)state;
    expect_endless((struct endless){"a\nx", ",", "\n2\n", ROW_CELLS_MOST, 0},
                   "1: a\n3: 2\n"
                   "t.csv:2: error: 1025 cells, expected at most 1024; the row was left out "
                   "[too-many-cells]\n");
}

static void a_file_above_256_mib_is_told_and_not_read_on(void **state)
{
    (void)state;
    struct endless endless = {"a,b\n", X64, "\n2,z\n", READING_TABLE_BYTES_MOST + 10000000, 0};
    expect_endless(endless, "1: a|b\n"
                            "t.csv: error: more than 256 MiB, expected a smaller file, split it; "
                            "the rest was not read [file-too-long]\n"
                            "t.csv:2: error: a line of more than 262144 bytes, expected at most "
                            "that; is it a table? the line was left out [line-too-long]\n");
}

static long fail_after_header(void *context, size_t size, char *bytes)
{
    int *calls = context;
    static const char text[] = "a,b\n1,2\n3";
    assert_true(size >= sizeof text);
    if ((*calls)++ > 0)
        return -1;
    memcpy(bytes, text, sizeof text - 1);
    return sizeof text - 1;
}

static void a_source_that_fails_is_not_a_short_file(void **state)
{
    (void)state;
    int calls = 0;
    struct source source = {.name = "t.csv", .context = &calls, .read = fail_after_header};
    struct result result;
    read_all(&result, &source);
    assert_string_equal(result.text.bytes, "1: a|b\n2: 1|2\nFAILED\n");
    arena_release(&result.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plain_rows_have_their_lines),
        cmocka_unit_test(blanks_around_unquoted_cells_go_and_inside_quotes_stay),
        cmocka_unit_test(rows_of_blank_cells_are_passed_over),
        cmocka_unit_test(the_header_decides_the_delimiter),
        cmocka_unit_test(quoted_line_breaks_keep_the_count_of_lines),
        cmocka_unit_test(one_apostrophe_before_a_formula_sign_is_taken_off),
        cmocka_unit_test(plain_lines_are_cut_as_libcsv_would),
        cmocka_unit_test(a_stray_quote_costs_its_row_only),
        cmocka_unit_test(an_open_quote_is_told_where_it_opens_and_costs_its_row_only),
        cmocka_unit_test(bytes_that_are_no_text_are_told_with_their_cell),
        cmocka_unit_test(a_lone_carriage_return_is_told),
        cmocka_unit_test(a_file_without_a_header_is_told),
        cmocka_unit_test(any_size_of_chunk_gives_the_same_rows),
        cmocka_unit_test(a_file_cut_off_anywhere_keeps_its_whole_rows_or_tells),
        cmocka_unit_test(a_line_of_100_mb_is_refused_in_1_mib),
        cmocka_unit_test(a_quoted_cell_over_many_lines_is_refused_in_1_mib),
        cmocka_unit_test(a_cell_of_64_kib_is_the_longest),
        cmocka_unit_test(a_row_of_many_long_cells_is_refused),
        cmocka_unit_test(a_row_of_too_many_cells_is_told),
        cmocka_unit_test(a_file_above_256_mib_is_told_and_not_read_on),
        cmocka_unit_test(a_source_that_fails_is_not_a_short_file),
    };
    return cmocka_run_group_tests_name("reading: rows", tests, NULL, NULL) != 0;
}
