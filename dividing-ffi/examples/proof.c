/*
 * Proof: eight holes of a plate were measured. What are its errors, from which
 * hole is it best used for four divisions, and what does the bench plan when it
 * knows?
 *
 *     proof
 */
#include "common.h"

static const char *const WORKSHOP =
    "{\"format\":1,\"name\":\"Bench\",\"equipment\":[{\"direct_plate\":{\"name\":\"plate\","
    "\"circles\":[{\"holes\":8,\"pitch_radius\":40}],\"registration\":{\"pin_diameter\":5.99,"
    "\"hole_diameter\":6,\"hole_position_tolerance\":0.03}}}]}";
static const char *const JOB =
    "{\"format\":1,\"name\":\"Four slots\",\"features\":{\"equal_divisions\":{\"count\":4,"
    "\"called\":\"slot\"}},\"tolerance\":{\"angle\":\"0.05 deg\"}}";

int main(void) {
    static const double x_mm[] = {40.004, 28.289, 0.001, -28.280, -39.995, -28.281, 0.006, 28.291};
    static const double y_mm[] = {0.002, 28.281, 40.006, 28.290, 0.004, -28.288, -39.998, -28.279};
    static const size_t four[] = {0, 2, 4, 6};
    dividing_ring_readings ring;
    dividing_measurement *measurement = NULL;
    dividing_inspection *inspection = NULL;
    dividing_workshop *workshop = NULL, *known = NULL;
    dividing_job *job = NULL;
    dividing_plans *plans = NULL;
    dividing_best_start start;
    dividing_plan plan;
    char *text = NULL;
    int done;
    memset(&ring, 0, sizeof ring);
    ring.name = "plate";
    ring.places = 8;
    ring.axis = 1; /* the bore, at 0, 0 */
    ring.standard_uncertainty = 0.001;
    done = good(dividing_measurement_points(&ring, NULL, x_mm, y_mm, NULL, NULL, 8,
                                            &measurement)) &&
           good(dividing_inspection_new(measurement, 0, NULL, NULL, &inspection)) &&
           show(dividing_inspection_text(inspection, &text), &text) &&
           good(dividing_inspection_choose_start(inspection, DIVIDING_ABOUT_AXIS_OR_CENTRE, 0,
                                                 four, 4, DIVIDING_REFERENCE_MIDDLE, 0, 0, NULL,
                                                 NULL, &start));
    if (done) {
        printf("\nfour divisions: begin at hole %u, worst %.4f degrees; from the worst hole %.4f\n",
               (unsigned)start.best, start.worst_rad * 57.29577951308232,
               start.worst_choice_rad * 57.29577951308232);
        done = good(dividing_workshop_from_json(WORKSHOP, DIVIDING_NUL_ENDED, &workshop)) &&
               good(dividing_inspection_into_workshop(inspection, 0, workshop, 0, 0, &known)) &&
               good(dividing_job_from_json(JOB, DIVIDING_NUL_ENDED, &job)) &&
               good(dividing_plans_of(known, job, 0, NULL, NULL, &plans)) &&
               good(dividing_plans_get(plans, 0, &plan));
    }
    if (done) {
        printf("planned with its measured holes: worst case %.4f degrees\n",
               plan.error.worst_deg);
    }
    dividing_plans_free(plans);
    dividing_job_free(job);
    dividing_workshop_free(known);
    dividing_workshop_free(workshop);
    dividing_inspection_free(inspection);
    dividing_measurement_free(measurement);
    return done ? EXIT_SUCCESS : EXIT_FAILURE;
}
