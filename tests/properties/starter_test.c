/*
 * starter_test.c - the program.json of a new folder sets every setting to what holds without it.
 */
#include "base/test.h"

#include "cli/starter.h"
#include "reading/reading.h"

#include <string.h>

static void a_new_folder_spells_out_the_defaults(void **state)
{
    struct arena arena;
    struct orchard orchard;
    struct diags diags;
    struct memory_source memory;
    size_t count, found = 0;
    (void)state;
    arena_init(&arena, NULL);
    orchard_init(&orchard, &arena);
    diags_init(&diags, &arena);
    const struct folder_file *files = starter_files(false, &arena, &count);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(files[i].name, "program.json") != 0)
            continue;
        struct program before = orchard.program;
        struct source source =
            source_of_memory("program.json", &memory, files[i].length, files[i].bytes);
        assert_true(read_program(&orchard, &source, &diags));
        assert_int_equal(diags.count, 0);
        assert_string_equal(orchard.program.name, "My programme");
        before.name = orchard.program.name;
        assert_memory_equal(&before, &orchard.program, sizeof before);
        found++;
    }
    assert_int_equal(found, 1);
    arena_release(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_new_folder_spells_out_the_defaults)};
    return cmocka_run_group_tests_name("a new folder", tests, NULL, NULL) != 0;
}
