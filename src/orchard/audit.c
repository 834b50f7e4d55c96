#include "orchard/audit.h"

#include "orchard/lookup.h"
#include "orchard/task_rules.h"

void orchard_audit(const struct orchard *orchard, daynum today, struct diags *diags)
{
    struct audit audit = {
        .orchard = orchard,
        .state = state_of(orchard, orchard->arena, NULL),
        .today = today,
        .arena = orchard->arena,
        .diags = diags,
    };
    for (int table = 0; table < KNOWN_TABLES; table++)
        known_of(&audit.known[table], orchard, (enum known_table)table);
    audit_dates(&audit);
    audit_sites(&audit);
    audit_weather(&audit);
    audit_grafts(&audit);
    audit_crosses(&audit);
    audit_working_times(&audit);
    audit_notes(&audit);
    audit_notes_between(&audit);
    threshold_audit(orchard, diags);
    rate_audit(orchard, diags);
    clock_audit(orchard, diags);
    (void)task_rules_of(orchard, orchard->arena, diags);
}
