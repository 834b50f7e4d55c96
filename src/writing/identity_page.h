/*
 * identity_page.h - the list of what to look after, with the count of labels to test.
 */
#ifndef WRITING_IDENTITY_PAGE_H
#define WRITING_IDENTITY_PAGE_H

#include "planning/identity.h"
#include "writing/pages.h"

/* Text shows at most 12 rows of each concern, and none of what is fine; CSV and JSON have all. */
struct sheet identity_sheet(const struct identity_list *identity, const struct page_run *run);

#endif
