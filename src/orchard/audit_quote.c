#include "orchard/audit.h"

const char *audit_quote(struct audit *audit, const char *text)
{
    return text ? diag_quote(audit->diags, text) : "''";
}
