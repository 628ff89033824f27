/*
 * Pattern: which holes to drill in a disc of 100 mm so that it serves 5, 6, 7,
 * 8, 9 and 12 divisions, with the proof that no plate has fewer, and the table
 * for the machine.
 *
 *     pattern
 */
#include "common.h"

int main(void) {
    static const uint64_t divisions[] = {5, 6, 7, 8, 9, 12};
    dividing_plate_brief brief;
    dividing_design *design = NULL;
    dividing_pattern *pattern = NULL;
    dividing_certificate proof;
    dividing_hole_table table = {3, 0, DIVIDING_PLATE_DATUM_CENTRE};
    char *text = NULL;
    bool fits = false;
    int done;
    memset(&brief, 0, sizeof brief);
    brief.divisions = divisions;
    brief.division_count = sizeof divisions / sizeof divisions[0];
    brief.plate_use = DIVIDING_PLATE_USE_PLUNGER;
    brief.outline_mm = 100;
    brief.hole_diameter_mm = 6;
    brief.least_web_mm = 2;
    brief.least_edge_distance_mm = 3;
    done = good(dividing_design_of(&brief, 0, NULL, NULL, &design)) &&
           good(dividing_design_fits(design, &fits));
    if (done && !fits) {
        done = show(dividing_design_shortfall_text(design, &text), &text);
        printf("\n");
    } else if (done) {
        done = good(dividing_design_pattern(design, &pattern)) &&
               good(dividing_pattern_certificate(pattern, &proof));
        if (done) {
            printf("%u holes; no plate of this kind has fewer than %u\n", (unsigned)proof.holes,
                   (unsigned)proof.lower_bound);
            done = show(dividing_pattern_csv(pattern, table, &text), &text);
        }
    }
    dividing_pattern_free(pattern);
    dividing_design_free(design);
    return done ? EXIT_SUCCESS : EXIT_FAILURE;
}
