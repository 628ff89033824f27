/*
 * Features of drawings with the shared vectors: chords of bolt circles by the
 * plain function and by jobs, and the measures of flats.
 */
#include "read.h"

static double value_of(const char *text) {
    const dividing_fraction fraction = fraction_of(text);
    return (double)fraction.numerator / (double)fraction.denominator;
}

static void chord(const json_value *inputs, double wanted, double off, const char *id) {
    dividing_bolt_circle circle;
    dividing_job *job = NULL;
    double radius = value_of(json_text(inputs, "diameter")) / 2;
    double spaces = number_of(inputs, "spaces"), found = 0;
    memset(&circle, 0, sizeof circle);
    circle.count = (uint32_t)number_of(inputs, "count");
    circle.pitch_radius_mm = radius;
    CHECK(within(dividing_bolt_circle_chord_mm(radius, circle.count, spaces), wanted, off), id);
    STATUS(dividing_job_bolt_circle(id, &circle, NULL, &job), DIVIDING_STATUS_OK, id);
    STATUS(dividing_job_chord_mm(job, (uint32_t)spaces, &found), DIVIDING_STATUS_OK, id);
    CHECK(within(found, wanted, off), id);
    dividing_job_free(job);
}

static void flats(const char *kind, const json_value *inputs, double wanted, double off,
                  const char *id) {
    const bool given = json_get(inputs, "stock") != NULL;
    dividing_flats fields;
    dividing_flats_measures measures;
    dividing_job *job = NULL;
    memset(&fields, 0, sizeof fields);
    memset(&measures, 0, sizeof measures);
    fields.count = (uint32_t)number_of(inputs, "count");
    fields.across_flats_mm = value_of(json_text(inputs, "across_flats"));
    fields.stock_diameter_mm =
        given ? value_of(json_text(inputs, "stock")) : 3 * fields.across_flats_mm;
    STATUS(dividing_job_flats(id, &fields, NULL, &job), DIVIDING_STATUS_OK, id);
    STATUS(dividing_job_flats_measures(job, &measures), DIVIDING_STATUS_OK, id);
    dividing_job_free(job);
    CHECK(within(strcmp(kind, "across_corners") == 0 ? measures.across_corners_mm
                 : strcmp(kind, "least_stock") == 0  ? measures.stock_for_sharp_corners_mm
                                                     : measures.over_opposite_mm,
                 wanted, off),
          id);
}

void test_feature_vectors(const char *folder) {
    char *text = NULL;
    json_value vectors;
    size_t i, done = 0;
    if (vectors_of(folder, "features.json", &text, &vectors)) {
        const json_value *checks = json_get(&vectors, "checks");
        for (i = 0; i < checks->count; i++) {
            const json_value *it = &checks->items[i];
            const json_value *inputs = json_get(it, "inputs");
            const char *kind = json_text(it, "kind"), *id = json_text(it, "id");
            double wanted, off;
            if (strcmp(kind, "difference_set") == 0) {
                continue; /* what it asks has no function in C */
            }
            wanted = value_of(json_text(it, "expected"));
            off = value_of(json_text(it, "tolerance"));
            if (strcmp(kind, "chord") == 0) {
                chord(inputs, wanted, off, id);
            } else {
                flats(kind, inputs, wanted, off, id);
            }
            done++;
        }
        CHECK(done > 25, "features.json");
    }
    json_free(&vectors);
    free(text);
}
