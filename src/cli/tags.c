/* tags.c - "tags": new tags, tags checked, labels, and whether every label is right. */
#include "cli/command.h"

#include "orchard/new_tags.h"
#include "orchard/tag_check.h"
#include "planning/grafting.h"
#include "planning/identity.h"
#include "planning/labels.h"
#include "reading/tag_list.h"
#include "writing/identity_page.h"
#include "writing/labels_page.h"

#include <string.h>

enum { NEW_MOST = 10000 }; /* tags of one call: own choice */

static const struct option_row tags_options[] = {
    OPTION("new", "N", OPTION_MANY, new_tags, "the next N tags, at most 10000"),
    OPTION("prefix", "LETTERS", OPTION_WORD, prefix,
           "with --new: one or two letters they begin with, no I and no O; default: those of the "
           "newest graft, or the next letter in a new winter"),
    OPTION("after", "TAG", OPTION_WORD, after,
           "with --new: go on behind this tag, printed before and not in a table yet"),
    OPTION("check", NULL, OPTION_FLAG, check,
           "check the tags, or names of bags, that follow the folder"),
    OPTION("list", "FILE", OPTION_WORD, list,
           "check those of a file: one a line, or the column tag of a CSV; - is standard input"),
    OPTION("labels", NULL, OPTION_FLAG, labels,
           "labels of the grafts that may live, or of the tags that follow the folder; with --new "
           "those of the new tags, with lines to fill in"),
    OPTION("site", "NAME", OPTION_WORD, site, "with --labels: only this site"),
    OPTION("from", "DATE", OPTION_DATE, from, "with --labels: only what was grafted from then on"),
    OPTION("sheet", "N", OPTION_COUNT, sheet, "with --labels --format svg: which sheet; default 1"),
    OPTION("paper", "NAME", OPTION_WORD, paper,
           "with --labels --format svg: a4 or letter; default a4, with --units us letter"),
    OPTION("identity", NULL, OPTION_FLAG, identity,
           "what to look after so that no graft, bag or lot loses its name"),
    OPTION("months", "N", OPTION_COUNT, months,
           "with --identity: grafts that nobody wrote of for so many months; default 12"),
    OPTIONS_END,
};

static enum exit_status usage(struct session *session, const char *what)
{
    session_say(session, "%s", what);
    return STATUS_USAGE;
}

static enum exit_status check_options(struct session *session)
{
    const struct options *options = &session->options;
    bool checks = options->check || options->list != NULL, made = options->new_tags > 0;
    const char *format = options->format != NULL ? options->format : "";

    if (!made && !checks && !options->labels && !options->identity)
        return usage(session, "say what is wanted: --new, --check, --labels or --identity");
    if (checks + options->identity + (made || options->labels) > 1)
        return usage(session, "--new with --labels, --check and --identity each give something of "
                              "their own, ask for one");
    if (!made && (options->prefix != NULL || options->after != NULL))
        return usage(session, "--prefix and --after belong to --new");
    if (options->prefix != NULL && options->after != NULL)
        return usage(session, "--prefix and --after exclude each other");
    if (!options->labels && (options->site != NULL || options->from != DAY_NONE))
        return usage(session, "--site and --from belong to --labels");
    if ((options->sheet > 0 || options->paper != NULL) && strcmp(format, "svg") != 0)
        return usage(session, "--sheet and --paper belong to --labels --format svg");
    if (!options->identity && options->months > 0)
        return usage(session, "--months belongs to --identity");
    if (!options->labels && (strcmp(format, "svg") == 0 || strcmp(format, "html") == 0))
        return usage(session, "html and svg are forms of --labels");
    if (options->check && options->list == NULL && session->operand_count == 1)
        return usage(session, "--check expects tags after the folder, or --list FILE");
    if (session->operand_count > 1 && (made || options->identity || options->list != NULL))
        return usage(session, "tags after the folder are for --check and for --labels without "
                              "--new");
    if (session->operand_count > 1 && options->labels &&
        (options->site != NULL || options->from != DAY_NONE))
        return usage(session, "--site and --from choose labels, and so do the tags after the "
                              "folder: give one");
    return STATUS_DONE;
}

/* ---- new tags ---- */

static enum exit_status begin_new(struct session *session, const struct opened *opened,
                                  struct new_tags *tags)
{
    const struct options *options = &session->options;
    struct tag_series last;
    int winter;

    if (options->new_tags > NEW_MOST)
        return usage(session, "--new is more than 10000, the most that one call gives");
    if (options->prefix != NULL && !tag_letters_may_be(options->prefix)) {
        session_say(session,
                    "--prefix is '%s', not one or two of the letters A to Z, without I and O",
                    options->prefix);
        return STATUS_USAGE;
    }
    if (options->after != NULL && !tag_series_read(options->after, &last)) {
        session_say(session, "--after is '%s', not a tag that this command gave", options->after);
        return STATUS_USAGE;
    }
    winter = grafting_winter(opened->state, opened->dates, session->arena);
    new_tags_begin(tags, &session->orchard, winter, options->prefix, session->arena);
    if (options->after != NULL)
        new_tags_go_on_after(tags, &last);
    return STATUS_DONE;
}

static enum exit_status make_new(struct session *session, const struct opened *opened,
                                 struct labels *labels)
{
    struct new_tags tags;
    enum exit_status status = begin_new(session, opened, &tags);

    for (int i = 0; status == STATUS_DONE && i < session->options.new_tags; i++) {
        const char *tag = new_tags_next(&tags);

        if (tag == NULL)
            return usage(session, "the numbers of nine digits are used up, begin with other "
                                  "letters: --prefix");
        *ARENA_PUSH(session->arena, labels->list, labels->count, labels->capacity) =
            (struct label){tag, NULL};
    }
    return status;
}

static void print_new(struct session *session, const struct opened *opened,
                      const struct labels *labels)
{
    struct sheet sheet = new_tags_sheet(labels, &opened->run);

    if (session_format(session) == FORMAT_TEXT && session_wants_page(session))
        new_tags_write_text(labels, &opened->run, &session->out);
    else
        session_sheet(session, &sheet);
}

/* ---- labels ---- */

/* The grafts of the operands, in their order; every unknown one is told. */
static enum exit_status named_labels(struct session *session, const struct opened *opened,
                                     struct labels *labels)
{
    struct tag_checker checker = tag_checker_of(&session->orchard, session->arena);
    enum exit_status status = STATUS_DONE;

    for (size_t i = 1; i < session->operand_count; i++) {
        struct tag_check check = tag_check_of(&checker, session->operands[i]);

        if (check.graft == NULL || check.tag != check.typed) {
            const char *meant = check.graft != NULL    ? check.graft->tag
                                : check.near_count > 0 ? check.near[0]
                                                       : NULL;

            session_say(session, "no graft has the tag '%s'%s%s", check.typed,
                        meant != NULL ? ", did you mean " : "", meant != NULL ? meant : "");
            status = STATUS_INPUT;
            continue;
        }
        *ARENA_PUSH(session->arena, labels->list, labels->count, labels->capacity) =
            (struct label){check.graft->tag, state_graft(opened->state, check.graft)};
    }
    return status;
}

static enum exit_status choose_labels(struct session *session, const struct opened *opened,
                                      struct labels *labels)
{
    const struct options *options = &session->options;
    struct labels_wanted wanted = {.from = options->from};

    if (options->new_tags > 0)
        return make_new(session, opened, labels);
    if (session->operand_count > 1)
        return named_labels(session, opened, labels);
    if (options->site != NULL) {
        wanted.site = session_site(session, options->site);
        if (wanted.site == NULL)
            return STATUS_USAGE;
    }
    *labels = labels_of(opened->state, &wanted, session->arena);
    return STATUS_DONE;
}

static enum exit_status print_svg(struct session *session, const struct opened *opened,
                                  const struct labels *labels)
{
    const struct options *options = &session->options;
    const char *name = options->paper != NULL ? options->paper
                       : opened->run.units_us ? "letter"
                                              : "a4";
    const struct label_paper *paper = label_papers;
    size_t pages = labels_pages(labels), page = options->sheet > 0 ? (size_t)options->sheet : 1;

    while (paper->name != NULL && strcmp(paper->name, name) != 0)
        paper++;
    if (paper->name == NULL) {
        session_say(session, "--paper is '%s', not a4 or letter", name);
        return STATUS_USAGE;
    }
    if (page > pages) {
        session_say(session, "--sheet is %zu, and the labels fill %zu sheet%s", page, pages,
                    pages == 1 ? "" : "s");
        return STATUS_USAGE;
    }
    labels_write_svg(labels, page - 1, paper, &session->out);
    if (pages > 1)
        session_say(session,
                    "sheet %zu of %zu; --sheet gives the others, --format html all of them", page,
                    pages);
    return STATUS_DONE;
}

/* Text everywhere unless another form is asked for: labels are for printing. */
static enum exit_status print_labels(struct session *session, const struct opened *opened,
                                     const struct labels *labels)
{
    struct sheet sheet;

    if (session_wants_page(session)) {
        labels_write_text(labels, &opened->run, &session->out);
        return STATUS_DONE;
    }
    switch (session_format(session)) {
    case FORMAT_HTML:
        labels_write_html(labels, &opened->run, &session->out);
        return STATUS_DONE;
    case FORMAT_SVG:
        return print_svg(session, opened, labels);
    default:
        sheet = labels_sheet(labels, &opened->run);
        session_sheet(session, &sheet);
        return STATUS_DONE;
    }
}

/* ---- checked tags ---- */

static bool read_list(struct session *session, const struct source *source, void *tags)
{
    return read_tag_list(tags, source, &session->diags);
}

static enum exit_status check_tags(struct session *session, const struct opened *opened)
{
    const char *path = session->options.list;
    struct tag_list tags = {.arena = session->arena};
    struct tag_checker checker = tag_checker_of(&session->orchard, session->arena);
    struct tag_check *checks;
    struct sheet sheet;

    if (path != NULL) {
        enum exit_status status =
            session_read_path(session, path, (struct path_reader){read_list, &tags});

        if (status == STATUS_DONE)
            status = session_faults_of(session, path);
        if (status != STATUS_DONE)
            return status;
    }
    for (size_t i = 1; i < session->operand_count; i++)
        *ARENA_PUSH(session->arena, tags.list, tags.count, tags.capacity) =
            (struct listed_tag){.tag = session->operands[i]};
    checks = ARENA_ARRAY(session->arena, tags.count, struct tag_check);
    for (size_t i = 0; i < tags.count; i++)
        checks[i] = tag_check_of(&checker, tags.list[i].tag);
    sheet = tag_checks_sheet(&(struct tag_checks){opened->state, checks, tags.count}, &opened->run);
    session_sheet(session, &sheet);
    return STATUS_DONE;
}

/* ---- identity ---- */

static void print_identity(struct session *session, const struct opened *opened)
{
    int months = session->options.months > 0 ? session->options.months : IDENTITY_MONTHS;
    struct identity_list identity = identity_of(opened->state, months, session->arena);
    struct sheet sheet = identity_sheet(&identity, &opened->run);

    session_sheet(session, &sheet);
}

static enum exit_status run_tags(struct session *session)
{
    const struct options *options = &session->options;
    struct opened opened;
    struct labels labels = {0};
    enum exit_status status = check_options(session);

    if (status == STATUS_DONE)
        status = session_plan(session, &opened);
    if (status != STATUS_DONE)
        return status;
    if (options->identity)
        print_identity(session, &opened);
    else if (options->check || options->list != NULL)
        return check_tags(session, &opened);
    else if (options->labels) {
        status = choose_labels(session, &opened, &labels);
        return status == STATUS_DONE ? print_labels(session, &opened, &labels) : status;
    } else {
        status = make_new(session, &opened, &labels);
        if (status == STATUS_DONE)
            print_new(session, &opened, &labels);
    }
    return status;
}

const struct command command_tags = {
    .name = "tags",
    .summary = "new tags, tags checked, labels, and care that no name is lost",
    .operands = "FOLDER [TAG...]",
    .operands_least = 1,
    .operands_most = 10001,
    .formats = "text csv json sheet html svg",
    .options = tags_options,
    .about =
        "A new tag is one or two letters, a running number and a check character (ISO/IEC 7064 "
        "MOD 37-2): every single wrong character and every swap of neighbours shows. The same call "
        "gives the same tags until they stand in grafts.csv or notes.csv. Old tags without a check "
        "character stay valid. Labels carry words, no codes; text is their form unless another "
        "is asked for, html holds every sheet, svg one. With --identity: labels that were never "
        "checked, disputed, wrong or changed, counts that do not add up, grafts that flower apart "
        "from their selection or that nobody saw for long, clones under two names, and how many "
        "labels to test.",
    .example = "conetide tags my-programme --check V0087 V0807",
    .run = run_tags,
};
