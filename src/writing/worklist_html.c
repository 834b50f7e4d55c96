/*
 * The worklist as one file without outside parts, well-formed as XML too.  Black on white; what a
 * colour could tell stands in words.
 */
#include "writing/head.h"
#include "writing/markup.h"
#include "writing/visit.h"
#include "writing/words.h"
#include "writing/work_lists.h"
#include "writing/work_row.h"

#include <math.h>
#include <string.h>

/* Tried in Chromium on A4 and Letter, both ways: the header row is repeated, no row is cut. */
static const char style[] =
    "@page{margin:10mm}\n"
    "body{font:9.5pt/1.25 sans-serif;color:#000;background:#fff;margin:0 auto;max-width:70em}\n"
    "section{break-before:page}section:first-of-type{break-before:auto}\n"
    "h1,h2{font-size:13pt;margin:.2em 0;break-after:avoid}p{margin:.2em 0}\n"
    "ul{margin:.2em 0;padding-left:1.4em}li{break-inside:avoid}\n"
    "ul.take{list-style:none;padding-left:0;columns:3 14em}\n"
    ".mind{border:1pt solid #000;padding:.2em .6em;margin:.4em 0;break-inside:avoid}\n"
    ".mind ul:has(li:nth-child(4)){columns:2 24em;column-gap:2em}\n"
    "table{border-collapse:collapse;width:100%;table-layout:fixed}\n"
    "thead{display:table-header-group}\n"
    "th,td{border:.5pt solid #000;padding:.2em .35em;text-align:left;vertical-align:top;"
    "overflow-wrap:break-word}\n"
    "th:nth-child(1){width:1.6em}th:nth-child(2){width:16%}th:nth-child(3){width:20%}\n"
    "th:nth-child(4){width:17%}th:nth-child(5){width:9.2em}\n"
    ".office th:nth-child(n){width:auto}.office th:nth-child(1){width:1.6em}\n"
    ".office th:nth-child(5){width:30%}.office th:nth-child(6){width:9.2em}\n"
    ".office tbody{break-inside:auto}\n"
    "tr,tbody{break-inside:avoid}tbody{border:1.5pt solid #000}\n"
    "table+p{break-before:avoid}\n"
    ".box{font-size:13pt;line-height:1}.code{font:.88em monospace;white-space:nowrap}\n"
    "b{overflow-wrap:anywhere}.write td{height:2.4em}\n";

static void add_place(struct text *out, const struct visit_facts *facts)
{
    text_add(out, "<td>");
    markup_add_escaped(out, facts->site);
    if (facts->block) {
        text_add(out, ", block ");
        markup_add_escaped(out, facts->block);
    }
    if (facts->row >= 0)
        text_addf(out, ", row %d", facts->row);
    if (facts->position >= 0)
        text_addf(out, " no. %d", facts->position);
    if (facts->tree) {
        text_add(out, "<br/>tree ");
        markup_add_element(out, "b", facts->tree);
    }
    if (facts->crown)
        text_addf(out, ", %s", facts->crown);
    if (facts->branch) {
        text_add(out, ", branch ");
        markup_add_escaped(out, facts->branch);
    }
    text_add(out, "</td>");
}

/* The bag, its cross and its pollen; of other work its subject, what it is, its cycle. */
static void add_subject(struct text *out, const struct row_facts *facts, bool of_plan)
{
    text_add(out, "<td>");
    if (facts->subject)
        markup_add_element(out, "b", facts->subject);
    if (facts->about) {
        text_add(out, facts->subject ? "<br/>" : "");
        markup_add_escaped(out, facts->about);
    }
    if (!of_plan && facts->cycle)
        text_addf(out, "%scycle %d", facts->subject || facts->about ? "<br/>" : "", facts->cycle);
    if (of_plan && facts->visit.lot) {
        text_add(out, "<br/>lot ");
        markup_add_element(out, "b", facts->visit.lot);
    }
    if (of_plan && facts->visit.lot && isfinite(facts->visit.dose_ml)) {
        text_add(out, ", ");
        words_add_amount(out, facts->visit.dose_ml);
        text_add(out, " ml");
    }
    text_add(out, "</td>");
}

static void add_row(const struct page_run *run, const struct work_row *row, struct text *out)
{
    struct row_facts facts = work_row_facts(run->orchard, row, run->arena);
    text_add(out, "<tbody>\n<tr><td class=\"box\">\xe2\x98\x90</td><td>");
    markup_add_element(out, "b", facts.task);
    if (facts.visit.tag) {
        text_add(out, "<br/>");
        markup_add_element(out, "b", facts.visit.tag);
        text_add(out, "<br/>flag: ");
        markup_add_escaped(out, facts.visit.flag);
    }
    text_add(out, "</td>");
    add_place(out, &facts.visit);
    add_subject(out, &facts, row->bag != NULL);
    text_add(out, "<td>");
    if (row->bag) {
        words_add_chance(out, facts.visit.chance);
        text_add(out, "<br/>");
    }
    words_add_day(out, facts.visit.latest);
    text_add(out, "</td>");
    markup_add_element(out, "td", row->brief);
    text_add(out, "</tr>\n<tr class=\"write\"><td></td><td>by, time</td><td>stage seen</td>");
    markup_add_element(out, "td", facts.write_in);
    text_add(out, "<td class=\"code\">");
    markup_add_escaped(out, row->entry);
    text_add(out, "</td><td>remarks, or why not done</td></tr>\n</tbody>\n");
}

static void add_kind_items(const struct work_page *page, bool cautions, struct text *out)
{
    for (size_t i = 0; i < page->kind_count; i++) {
        const struct task_kind *kind = page->kinds[i];
        const char *words = cautions ? kind->caution : kind->needs;
        if (words)
            markup_add_element(
                out, cautions ? "li" : "p",
                arena_printf(out->arena, cautions ? "%s: %s" : "For %s: %s", kind->task, words));
    }
}

static void add_materials(const struct work_page *page, struct text *out)
{
    if (page->material_count == 0)
        return;
    text_add(out, "<p>To take from store:</p>\n<ul class=\"take\">\n");
    for (size_t i = 0; i < page->material_count; i++) {
        text_add(out, "<li>\xe2\x98\x90 ");
        markup_add_escaped(out, material_words(&page->materials[i], out->arena));
        if (page->materials[i].kept_at) {
            text_add(out, ", kept at ");
            markup_add_escaped(out, page->materials[i].kept_at);
        }
        text_add(out, "</li>\n");
    }
    text_add(out, "</ul>\n");
}

static void add_decide(const struct work_page *page, struct text *out)
{
    bool any = false;
    for (enum bag_task task = TASK_BAG; task < BAG_TASKS; task++) {
        const char *decide = work_page_decide(page, task);
        if (!decide)
            continue;
        if (!any)
            text_add(out, "<div class=\"mind\"><p>What decides, by the stage that is "
                          "seen:</p>\n<ul>\n");
        any = true;
        markup_add_element(out, "li",
                           arena_printf(out->arena, "%s: %s", bag_task_words[task], decide));
    }
    if (any)
        text_add(out, "</ul></div>\n");
}

static void add_cautions(const struct work_page *page, const struct head *head, struct text *out)
{
    const char *last_safe = work_page_last_safe(page, out->arena);
    struct text warnings;
    text_init(&warnings, head->run->arena);
    head_add_warnings(head, &warnings);
    text_add(out, "<div class=\"mind\"><p>Mind:</p>\n<ul>\n");
    for (char *at = warnings.bytes, *end; (end = strchr(at, '\n')); at = end + 1) {
        *end = '\0';
        markup_add_element(out, "li", at);
    }
    text_add(out,
             "<li>lift down, wind or rain: leave the box empty and write why; what is not done "
             "comes back on the next list</li>\n");
    if (*last_safe)
        markup_add_element(out, "li",
                           arena_printf(out->arena,
                                        "if the lift is down: today is the last safe day of %s",
                                        last_safe));
    add_kind_items(page, true, out);
    for (const char *const *caution = page->cautions; caution && *caution; caution++)
        markup_add_element(out, "li", *caution);
    text_add(out, "</ul></div>\n");
}

static void add_title(const struct page_run *run, const struct work_page *page, struct text *out)
{
    char week[DAY_WEEK_TEXT];
    text_add(out, "<h1>");
    words_add_day(out, page->day);
    text_addf(out, ", week %s: crew ", day_week_text(page->day, week));
    markup_add_escaped(out, page->crew);
    if (page->lift) {
        text_add(out, ", lift ");
        markup_add_escaped(out, page->lift);
    }
    text_add(out, "</h1>\n<p>");
    if (run->orchard->program.name)
        markup_add_escaped(out, run->orchard->program.name);
    text_add(out, " as of ");
    words_add_day(out, run->as_of);
}

static void add_table(const struct page_run *run, const struct work_row *rows, size_t count,
                      struct text *out)
{
    text_add(out, "<table>\n<thead><tr><th></th><th>task, tag, flag</th><th>place, tree, crown</th>"
                  "<th>bag, cross (seed x pollen), lot</th><th>chance, latest safe day</th>"
                  "<th>what decides in the crown</th></tr></thead>\n");
    for (size_t i = 0; i < count; i++)
        add_row(run, &rows[i], out);
    text_add(out, "</table>\n<p>Stages: 1 small bud, 2 large bud, 3 opening, 4 partly open, "
                  "5 fully receptive, 6 closed.  Type each row back by its code.</p>\n");
}

static void add_section(const struct page_run *run, const struct work_page *page, struct text *out)
{
    struct head head;
    struct text newest;
    head_init(&head, run);
    text_init(&newest, run->arena);
    work_page_see(&head, page);
    text_add(out, "<section>\n");
    add_title(run, page, out);
    text_add(out, "; weather observed: ");
    head_add_newest(&head, &newest);
    markup_add_escaped(out, newest.bytes);
    text_add(out, "</p>\n");
    markup_add_element(
        out, "p", arena_printf(run->arena, "Planned: %s", work_page_minutes(page, run->arena)));
    add_materials(page, out);
    add_kind_items(page, false, out);
    add_cautions(page, &head, out);
    add_decide(page, out);
    add_table(run, page->rows, page->row_count, out);
    text_add(out, "</section>\n");
}

static void add_list_title(const struct worklist *list, const struct page_run *run,
                           const char *what, struct text *out)
{
    text_addf(out, "<section>\n<h1>%s, ", what);
    words_add_day(out, list->first_day);
    if (list->last_day != list->first_day) {
        text_add(out, " to ");
        words_add_day(out, list->last_day);
    }
    text_add(out, "</h1>\n<p>");
    if (run->orchard->program.name)
        markup_add_escaped(out, run->orchard->program.name);
    text_add(out, " as of ");
    words_add_day(out, run->as_of);
    text_add(out, "</p>\n");
}

static void add_lists(const struct worklist *list, const struct page_run *run, struct text *out)
{
    struct work_sections sections = work_sections_of(list, run);
    if (sections.count == 0)
        return;
    add_list_title(list, run, "What lies around the work", out);
    for (size_t i = 0; i < sections.count; i++) {
        markup_add_element(out, "p", sections.list[i].title);
        text_add(out, "\n");
        if (sections.list[i].count == 0)
            continue;
        text_add(out, "<ul>\n");
        for (size_t k = 0; k < sections.list[i].count; k++)
            markup_add_element(out, "li", sections.list[i].lines[k]);
        text_add(out, "</ul>\n");
    }
    text_add(out, "</section>\n");
}

static void add_office_row(const struct work_row *row, struct text *out)
{
    const struct task_instance *instance = row->instance;
    text_add(out, "<tr><td class=\"box\">\xe2\x98\x90</td>");
    markup_add_element(out, "td",
                       instance->cycle ? arena_printf(out->arena, "%s, cycle %d",
                                                      instance->kind->task, instance->cycle)
                                       : instance->kind->task);
    markup_add_element(out, "td", work_row_about(row));
    text_add(out, "<td>");
    work_row_add_last(row, out);
    text_add(out, "</td>");
    markup_add_element(out, "td", row->brief);
    text_add(out, "<td class=\"code\">");
    markup_add_escaped(out, row->entry);
    text_add(out, "</td></tr>\n");
}

static void add_office(const struct worklist *list, const struct page_run *run, struct text *out)
{
    if (list->office_count == 0)
        return;
    add_list_title(list, run, "Without a crew", out);
    text_add(
        out,
        "<table class=\"office\">\n<thead><tr><th></th><th>task</th><th>about</th><th>last day</th>"
        "<th>what to do</th><th>code</th></tr></thead>\n<tbody>\n");
    for (size_t i = 0; i < list->office_count; i++)
        add_office_row(&list->office[i], out);
    text_add(out, "</tbody>\n</table>\n</section>\n");
}

void worklist_write_html(const struct worklist *list, const struct page_run *run, struct text *out)
{
    text_add(out, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n"
                  "<meta name=\"viewport\" content=\"width=device-width\"/>\n<title>Worklist ");
    words_add_day(out, list->first_day);
    text_add(out, "</title>\n<style>\n");
    text_add(out, style);
    text_add(out, "</style>\n</head>\n<body>\n");
    if (list->page_count == 0 && list->office_count == 0) {
        text_add(out, "<h1>Nothing is due from ");
        words_add_day(out, list->first_day);
        text_add(out, " to ");
        words_add_day(out, list->last_day);
        text_add(out, ".</h1>\n<p>As of ");
        words_add_day(out, run->as_of);
        text_add(out, "</p>\n");
    }
    add_lists(list, run, out);
    for (size_t i = 0; i < list->page_count; i++)
        add_section(run, &list->pages[i], out);
    add_office(list, run, out);
    text_add(out, "</body>\n</html>\n");
}
