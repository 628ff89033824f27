/*
 * Sheet: what to set, step by step, for seven slots on a head built by calls.
 *
 *     sheet
 */
#include "common.h"

int main(void) {
    dividing_plate_circle circles[2];
    dividing_index_plate plate;
    dividing_worm_head head;
    dividing_equal_divisions slots;
    dividing_job_terms terms;
    dividing_equipment *piece = NULL;
    dividing_workshop *workshop = NULL;
    dividing_job *job = NULL;
    dividing_plans *plans = NULL;
    char *text = NULL;
    int done;
    memset(circles, 0, sizeof circles);
    memset(&plate, 0, sizeof plate);
    memset(&head, 0, sizeof head);
    memset(&slots, 0, sizeof slots);
    memset(&terms, 0, sizeof terms);
    circles[0].holes = 21;
    circles[1].holes = 33;
    plate.name = "plate 2";
    plate.circles = circles;
    plate.circle_count = 2;
    head.name = "head";
    head.worm_ratio.numerator = 40;
    head.worm_ratio.denominator = 1;
    head.plates = &plate;
    head.plate_count = 1;
    slots.count = 7;
    slots.called = "slot";
    terms.tolerance = DIVIDING_TOLERANCE_KIND_ANGLE;
    terms.angle.numerator = 1; /* 0.05 degrees */
    terms.angle.denominator = 7200;
    done = good(dividing_equipment_worm_head(&head, &piece));
    if (done) {
        const dividing_equipment *pieces[1];
        pieces[0] = piece;
        done = good(dividing_workshop_new("Bench", pieces, 1, &workshop)) &&
               good(dividing_job_equal_divisions("Seven slots", &slots, &terms, &job)) &&
               good(dividing_plans_of(workshop, job, 0, NULL, NULL, &plans)) &&
               show(dividing_plans_sheet_text(plans, 0, &text), &text);
    }
    dividing_plans_free(plans);
    dividing_job_free(job);
    dividing_workshop_free(workshop);
    dividing_equipment_free(piece);
    return done ? EXIT_SUCCESS : EXIT_FAILURE;
}
