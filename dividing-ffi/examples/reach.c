/*
 * Reach: which divisions up to 50 a 40:1 head with one plate makes exactly, and
 * how near it comes to the others. The head is built by calls, the table is read
 * in place.
 *
 *     reach
 */
#include "common.h"

/* A bench with one head; NULL when something is wrong. */
static dividing_workshop *bench(void) {
    static const uint32_t holes[] = {15, 16, 17, 18, 19, 20};
    enum { CIRCLES = sizeof holes / sizeof holes[0] };
    dividing_plate_circle circles[CIRCLES];
    dividing_index_plate plate;
    dividing_worm_head head;
    dividing_equipment *piece = NULL;
    dividing_workshop *workshop = NULL;
    size_t i;
    /* All zeros stand for "not given". */
    memset(circles, 0, sizeof circles);
    memset(&plate, 0, sizeof plate);
    memset(&head, 0, sizeof head);
    for (i = 0; i < CIRCLES; i++) {
        circles[i].holes = holes[i];
    }
    plate.name = "plate 1";
    plate.circles = circles;
    plate.circle_count = CIRCLES;
    head.name = "head";
    head.worm_ratio.numerator = 40;
    head.worm_ratio.denominator = 1;
    head.plates = &plate;
    head.plate_count = 1;
    if (good(dividing_equipment_worm_head(&head, &piece))) {
        const dividing_equipment *pieces[1];
        pieces[0] = piece;
        if (!good(dividing_workshop_new("Bench", pieces, 1, &workshop))) {
            workshop = NULL;
        }
    }
    dividing_equipment_free(piece);
    return workshop;
}

int main(void) {
    dividing_workshop *workshop = bench();
    dividing_indexing_table *table = NULL;
    dividing_simple_columns rows;
    const uint32_t first = 2, last = 50;
    int done = workshop != NULL &&
               good(dividing_indexing_table_new(workshop, first, last, 0, NULL, NULL, &table)) &&
               good(dividing_indexing_table_simple(table, 0, &rows));
    size_t i;
    for (i = 0; done && i < rows.length; i++) {
        printf("%3u divisions: %2u turns + %2u holes of %2u", (unsigned)(first + i),
               (unsigned)rows.turns[i], (unsigned)rows.holes[i], (unsigned)rows.circle[i]);
        if (rows.exact[i]) {
            printf("\n");
        } else {
            printf(", off by up to %.1f\"\n", rows.residual_turns[i] * 1296000);
        }
    }
    dividing_indexing_table_free(table);
    dividing_workshop_free(workshop);
    return done ? EXIT_SUCCESS : EXIT_FAILURE;
}
