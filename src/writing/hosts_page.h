/*
 * hosts_page.h - what each interstock clone has given, as a sheet.
 */
#ifndef WRITING_HOSTS_PAGE_H
#define WRITING_HOSTS_PAGE_H

#include "planning/hosts.h"
#include "writing/pages.h"

struct sheet hosts_sheet(const struct hosts *hosts, const struct page_run *run);

#endif
