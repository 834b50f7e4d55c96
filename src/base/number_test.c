#include "base/number.h"

#include "base/test.h"

/* The second opinion of the exact functions; the house itself keeps to ISO C. */
__extension__ typedef __int128 wide;

static uint64_t random_state = 88172645463325252u;

static uint64_t random_bits(void)
{
    random_state ^= random_state << 13;
    random_state ^= random_state >> 7;
    random_state ^= random_state << 17;
    return random_state;
}

static void numbers_are_read_as_written(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        double value;
    } rows[] = {
        {"0", 0},
        {"7", 7},
        {"+7", 7},
        {"-7", -7},
        {"007.50", 7.5},
        {"0.1", 0.1},
        {"-0.7", -0.7},
        {"3.14159265358979", 3.14159265358979},
        {"999999999999999", 999999999999999.0},
        {"-999999999999999", -999999999999999.0},
        {"0.000000000000001", 1e-15},
        {"0.0000000000000000000001", 1e-22},
        {"00000000000000000000000000000000012", 12},
        {"123456789.012345", 123456789.012345},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        double value = NAN;
        if (!number_parse(strlen(rows[i].text), rows[i].text, &value) || value != rows[i].value)
            fail_msg("%s gives %.17g", rows[i].text, value);
    }
    double value;
    assert_true(number_parse(3, "1.5e9", &value)); /* the length is kept to */
    assert_near(value, 1.5, 0);
}

static void zero_has_no_sign(void **state)
{
    (void)state;
    static const char *const zeros[] = {"0", "-0", "+0", "-0.00", "-000"};
    for (size_t i = 0; i < COUNT(zeros); i++) {
        double value = NAN;
        assert_true(number_parse(strlen(zeros[i]), zeros[i], &value));
        assert_true(value == 0 && !signbit(value));
    }
}

static void anything_else_is_refused(void **state)
{
    (void)state;
    static const char *const refused[] = {
        "",
        "+",
        "-",
        ".",
        "+.",
        ".5",
        "5.",
        "-.5",
        "1.2.3",
        "1..2",
        "--5",
        "+-5",
        "-+5",
        "5-",
        "5+",
        "1e5",
        "1E5",
        "1e400",
        "1e-400",
        "nan",
        "NaN",
        "inf",
        "-inf",
        "infinity",
        "0x10",
        "0X1P3",
        " 5",
        "5 ",
        "5\t",
        "1 000",
        "1,000",
        "1,5",
        "1'000",
        "1_000",
        "5%",
        "5C",
        "5\n",
        "٣",
        "５",
        "½",
        "−5",
        "1.-5",
        "1.+5",
        "- 5",
        "NA",
        "#N/A",
        "5f",
        "1.5L",
        "M",
        "T",
        "1234567890123456",          /* 16 digits */
        "0.1234567890123456",        /* 16 digits */
        "1000000000000000",          /* 16 digits */
        "1.000000000000000",         /* 16 digits */
        "0.00000000000000000000001", /* 23 places */
        "99999999999999999999999999999999999999999999999999",
    };
    for (size_t i = 0; i < COUNT(refused); i++) {
        double value = 12345;
        int32_t whole = 12345;
        struct decimal decimal = {12345, 5};
        size_t length = strlen(refused[i]);
        if (number_parse(length, refused[i], &value) ||
            number_parse_integer(length, refused[i], &whole) ||
            number_parse_decimal(length, refused[i], &decimal))
            fail_msg("'%s' was read", refused[i]);
        assert_near(value, 12345, 0);
        assert_int_equal(whole, 12345);
        assert_int_equal(decimal.units, 12345);
        assert_int_equal(decimal.scale, 5);
    }
    double value;
    assert_false(number_parse(3,
                              "1\0"
                              "2",
                              &value));
    static char many[100000];
    memset(many, '9', sizeof many);
    assert_false(number_parse(sizeof many, many, &value));
    memset(many, '0', sizeof many); /* zeros before the number are no digits of it */
    assert_true(number_parse(sizeof many, many, &value));
}

static void every_short_text_is_judged_by_the_rule(void **state)
{
    (void)state;
    static const char letters[] = "05+-.e x";
    for (unsigned n = 0; n < 8u * 8 * 8 * 8 * 8 * 8; n++)
        for (size_t length = 0; length <= 6; length++) {
            char text[7] = "";
            unsigned rest = n;
            for (size_t i = 0; i < length; i++, rest /= 8)
                text[i] = letters[rest % 8];
            if (rest > 0)
                continue; /* this one comes with a smaller n */

            size_t at = text[0] == '+' || text[0] == '-' ? 1 : 0;
            size_t whole = strspn(text + at, "05");
            at += whole;
            size_t places = text[at] == '.' ? strspn(text + at + 1, "05") : 0;
            at += places ? places + 1 : 0;
            double value;
            if (number_parse(length, text, &value) != (whole > 0 && at == length))
                fail_msg("'%s'", text);
        }
}

static void the_nearest_double_is_found(void **state)
{
    (void)state;
    for (int i = 0; i < 1000000; i++) {
        uint64_t bits = random_bits();
        int64_t units = (int64_t)(random_bits() % 1000000000000000u);
        for (unsigned digits = (unsigned)(bits % 15); digits-- > 0;)
            units /= 10;
        size_t places = (size_t)(bits >> 8) % 23;
        char text[64], digits[64];
        int count = snprintf(digits, sizeof digits, "%0*lld", (int)places + 1, (long long)units);
        size_t whole = (size_t)count - places;
        int length = snprintf(text, sizeof text, "%s%.*s%s%s", bits >> 63 && units ? "-" : "",
                              (int)whole, digits, places ? "." : "", digits + whole);
        double value = NAN;
        if (!number_parse((size_t)length, text, &value) || value != strtod(text, NULL))
            fail_msg("%s gives %.17g", text, value);
    }
}

static void fifteen_digits_print_back(void **state)
{
    (void)state;
    for (int i = 0; i < 200000; i++) {
        char text[32], back[40];
        snprintf(text, sizeof text, "%llu.%08llu",
                 (unsigned long long)(1000000 + random_bits() % 9000000),
                 (unsigned long long)(random_bits() % 100000000));
        double value = NAN;
        assert_true(number_parse(strlen(text), text, &value));
        snprintf(back, sizeof back, "%.8f", value);
        assert_string_equal(back, text);
    }
}

static void integers_fit_thirty_two_bits(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        int32_t value;
    } rows[] = {
        {"0", 0},
        {"-0", 0},
        {"+5", 5},
        {"-5", -5},
        {"007", 7},
        {"2147483647", INT32_MAX},
        {"000002147483647", INT32_MAX},
        {"-2147483648", INT32_MIN},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        int32_t value = 99;
        assert_true(number_parse_integer(strlen(rows[i].text), rows[i].text, &value));
        assert_int_equal(value, rows[i].value);
    }
    static const char *const refused[] = {"2147483648",         "-2147483649", "4294967296",
                                          "99999999999999999",  "1.0",         "1.5",
                                          "9223372036854775808"};
    for (size_t i = 0; i < COUNT(refused); i++) {
        int32_t value = 99;
        assert_false(number_parse_integer(strlen(refused[i]), refused[i], &value));
        assert_int_equal(value, 99);
    }
}

static struct decimal decimal(const char *text)
{
    struct decimal value = {0, 0};
    if (!number_parse_decimal(strlen(text), text, &value))
        fail_msg("'%s' is no decimal", text);
    return value;
}

static void decimals_keep_their_digits(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        int64_t units;
        int scale;
    } rows[] = {
        {"0.7", 7, 1},
        {"1.10", 110, 2},
        {"-2.5", -25, 1},
        {"3", 3, 0},
        {"0", 0, 0},
        {"0.000000001", 1, 9},
        {"123456.123456789", 123456123456789, 9},
        {"+0.35", 35, 2},
        {"999999999999999", 999999999999999, 0},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct decimal value = decimal(rows[i].text);
        assert_int_equal(value.units, rows[i].units);
        assert_int_equal(value.scale, rows[i].scale);
        double number = NAN;
        assert_true(number_parse(strlen(rows[i].text), rows[i].text, &number));
        assert_near(number_of_decimal(value), number, 0);
    }
    struct decimal value = {12345, 5};
    assert_false(number_parse_decimal(12, "0.0000000001", &value)); /* ten places */
    assert_int_equal(value.units, 12345);
}

/* Each of these is one too many when it is worked out in doubles. */
static void divisions_round_up_exactly(void **state)
{
    (void)state;
    static const struct {
        int64_t count;
        const char *by;
        int64_t quotient, in_doubles;
    } rows[] = {
        {21, "0.7", 30, 31},       {42, "0.7", 60, 61}, {84, "0.7", 120, 121}, {21, "0.35", 60, 61},
        {1, "0.7", 2, 2}, /* which taking a little off before rounding must not break */
        {0, "0.7", 0, 0},          {7, "7", 1, 1},      {8, "7", 2, 2},        {1, "1.000", 1, 1},
        {1000, "0.9", 1112, 1112}, {24, "7", 4, 4},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct decimal by = decimal(rows[i].by);
        assert_int_equal(number_divide_up(rows[i].count, by), rows[i].quotient);
        volatile double quotient = (double)rows[i].count / number_of_decimal(by);
        assert_near(ceil(quotient), (double)rows[i].in_doubles, 0);
    }
}

static void products_round_up_exactly(void **state)
{
    (void)state;
    static const struct {
        int64_t count;
        const char *by;
        int64_t product, in_doubles;
    } rows[] = {
        {50, "1.10", 55, 56},    {100, "1.10", 110, 111}, {360, "1.10", 396, 397},
        {120, "1.25", 150, 150}, {240, "1.05", 252, 252}, {3, "0.5", 2, 2},
        {0, "1.1", 0, 0},        {5, "0", 0, 0},          {1, "0.000000001", 1, 1},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct decimal by = decimal(rows[i].by);
        assert_int_equal(number_multiply_up(rows[i].count, by), rows[i].product);
        volatile double product = (double)rows[i].count * number_of_decimal(by);
        assert_near(ceil(product), (double)rows[i].in_doubles, 0);
    }
    /* 120 grafts, 30 inches of film each and a tenth more: 330 feet, not 331 */
    int64_t inches = number_multiply_up(120 * 30, decimal("1.10"));
    assert_int_equal(inches, 3960);
    assert_int_equal(number_divide_up(inches, decimal("12")), 330);
}

/* 1000 seedlings back to cones, conelets and strobili. */
static void a_chain_of_yields_is_rounded_up_step_by_step(void **state)
{
    (void)state;
    int64_t seed = number_divide_up(1000, decimal("0.9"));
    int64_t cones = number_divide_up(seed, decimal("30"));
    int64_t conelets = number_divide_up(cones, decimal("0.6"));
    assert_int_equal(seed, 1112);
    assert_int_equal(cones, 38);
    assert_int_equal(conelets, 64);
    assert_int_equal(number_divide_up(conelets, decimal("0.7")), 92);
    assert_int_equal(number_divide_up(92, decimal("3")), 31);
    assert_int_equal(number_divide_up(conelets, decimal("0.5")), 128);
    assert_int_equal(number_divide_up(128, decimal("3")), 43);
    assert_int_equal(number_divide_up(500, decimal("16")), 32);
    assert_int_equal(number_divide_up(32, decimal("0.6")), 54);
    assert_int_equal(number_divide_up(54, decimal("0.5")), 108);
}

static void what_does_not_fit_is_refused(void **state)
{
    (void)state;
    assert_int_equal(number_divide_up(5, decimal("0")), -1);
    assert_int_equal(number_divide_up(5, decimal("-0.7")), -1);
    assert_int_equal(number_divide_up(-5, decimal("0.7")), -1);
    assert_int_equal(number_divide_up(INT64_MAX, decimal("0.1")), -1);
    assert_int_equal(number_divide_up(INT64_MAX, decimal("0.9")), -1);
    assert_int_equal(number_divide_up(INT64_MAX, decimal("1")), INT64_MAX);
    assert_int_equal(number_divide_up(INT64_MAX, decimal("1.000000000")), INT64_MAX);
    assert_int_equal(number_divide_up(INT64_MAX, (struct decimal){INT64_MAX, 9}), 1000000000);
    assert_int_equal(number_divide_up(INT64_MAX - 1, (struct decimal){INT64_MAX, 9}), 1000000000);
    assert_int_equal(number_divide_up(1, (struct decimal){INT64_MAX, 9}), 1);

    assert_int_equal(number_multiply_up(-1, decimal("1")), -1);
    assert_int_equal(number_multiply_up(1, decimal("-1")), -1);
    assert_int_equal(number_multiply_up(0, decimal("-1")), -1);
    assert_int_equal(number_multiply_up(INT64_MAX, decimal("1")), INT64_MAX);
    assert_int_equal(number_multiply_up(INT64_MAX, decimal("1.000000001")), -1);
    assert_int_equal(number_multiply_up(INT64_MAX, decimal("0.5")), INT64_MAX / 2 + 1);
    assert_int_equal(number_multiply_up(INT64_MAX / 2 + 1, decimal("2")), -1);
}

static int64_t as_result(wide value)
{
    return value > INT64_MAX ? -1 : (int64_t)value;
}

static void both_agree_with_wider_arithmetic(void **state)
{
    (void)state;
    int refused = 0, given = 0;
    for (int i = 0; i < 1000000; i++) {
        int64_t count = (int64_t)(random_bits() >> (1 + random_bits() % 63));
        struct decimal by = {(int64_t)(random_bits() >> (1 + random_bits() % 63)), 0};
        by.scale = (int)(random_bits() % 10);
        wide one = 1;
        for (int place = 0; place < by.scale; place++)
            one *= 10;

        wide product = ((wide)count * by.units + one - 1) / one;
        int64_t quotient = -1;
        if (by.units > 0)
            quotient = as_result((count * one + by.units - 1) / by.units);
        if (number_multiply_up(count, by) != as_result(product) ||
            number_divide_up(count, by) != quotient)
            fail_msg("%lld and %lld / 10^%d", (long long)count, (long long)by.units, by.scale);
        refused += quotient < 0;
        given += quotient >= 0;
    }
    assert_true(refused > 10000 && given > 10000); /* both kinds were met */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_are_read_as_written),
        cmocka_unit_test(zero_has_no_sign),
        cmocka_unit_test(anything_else_is_refused),
        cmocka_unit_test(every_short_text_is_judged_by_the_rule),
        cmocka_unit_test(the_nearest_double_is_found),
        cmocka_unit_test(fifteen_digits_print_back),
        cmocka_unit_test(integers_fit_thirty_two_bits),
        cmocka_unit_test(decimals_keep_their_digits),
        cmocka_unit_test(divisions_round_up_exactly),
        cmocka_unit_test(products_round_up_exactly),
        cmocka_unit_test(a_chain_of_yields_is_rounded_up_step_by_step),
        cmocka_unit_test(what_does_not_fit_is_refused),
        cmocka_unit_test(both_agree_with_wider_arithmetic),
    };
    return cmocka_run_group_tests_name("number", tests, NULL, NULL) != 0;
}
