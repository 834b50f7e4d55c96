/*
 * workbook.h - sheets as the worksheets of one workbook, in the XML of spreadsheets of 2003.
 *
 * One text file that needs no library; spreadsheet programs open it with text as text (0012, 1E5,
 * =1+1), days as days and numbers as numbers, which no CSV can make them do.
 */
#ifndef WRITING_WORKBOOK_H
#define WRITING_WORKBOOK_H

#include "writing/sheet.h"

/*
 * A worksheet a sheet, named by its schema less "conetide" and the version, with the columns of
 * CSV, their names in a first row that stays in view, and filters; then a worksheet "about" with
 * the lines that text has above and below.  The schemas must differ.
 */
void workbook_write(size_t count, const struct sheet *sheets, struct sheet_style style,
                    struct text *out);

#endif
