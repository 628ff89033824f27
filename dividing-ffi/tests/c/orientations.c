/*
 * Sets of orientations, and the starts from which they hold a pattern.
 */
#include "read.h"

static dividing_orientations *spaced(uint64_t order) {
    const dividing_fraction zero = {0, 1};
    dividing_orientations *made = NULL;
    STATUS(dividing_orientations_of_cosets(&order, &zero, 1, &made), DIVIDING_STATUS_OK, "spaced");
    return made;
}

/* Whether a set is `order` equally spaced orientations from 0. */
static bool is_spaced(const dividing_orientations *set, uint64_t order) {
    uint64_t found = 0;
    dividing_fraction through = {7, 1};
    return dividing_orientations_cosets(set, &found, &through, 1) == DIVIDING_STATUS_OK &&
           found == order && through.numerator == 0;
}

static void algebra(void) {
    dividing_orientations *four = spaced(4), *six = spaced(6), *both = NULL, *sum = NULL,
                          *common = NULL;
    const uint64_t none = 0;
    const dividing_fraction sixth = {-5, 6}, eighth = {1, 8}, bad = {1, 0};
    uint64_t orders[2] = {77, 77};
    dividing_fraction through[2];
    size_t count = 0;
    bool held = false;
    /* Sums of quarters and sixths are the twelfths (least common multiple);
     * both hold the halves (greatest common divisor). */
    STATUS(dividing_orientations_sum(four, six, 0, NULL, NULL, &sum), DIVIDING_STATUS_OK, "sum");
    CHECK(is_spaced(sum, 12), "lcm(4, 6)");
    STATUS(dividing_orientations_intersection(four, six, 0, NULL, NULL, &common),
           DIVIDING_STATUS_OK, "common");
    CHECK(is_spaced(common, 2), "gcd(4, 6)");
    STATUS(dividing_orientations_union(four, six, &both), DIVIDING_STATUS_OK, "union");
    STATUS(dividing_orientations_coset_count(both, &count), DIVIDING_STATUS_OK, "count");
    CHECK(count == 2, "quarters and sixths");
    STATUS(dividing_orientations_cosets(both, orders, through, 1),
           DIVIDING_STATUS_BUFFER_TOO_SMALL, "room for one");
    CHECK(orders[0] == 77, "an output touched on failure");
    STATUS(dividing_orientations_cosets(both, orders, through, 2), DIVIDING_STATUS_OK, "two");
    CHECK(orders[0] + orders[1] == 10, "quarters and sixths");
    STATUS(dividing_orientations_hold(both, sixth, &held), DIVIDING_STATUS_OK, "-5/6");
    CHECK(held, "-5/6 is 1/6");
    STATUS(dividing_orientations_hold(both, eighth, &held), DIVIDING_STATUS_OK, "1/8");
    CHECK(!held, "1/8");
    STATUS(dividing_orientations_hold(both, bad, &held), DIVIDING_STATUS_OUT_OF_RANGE, "1/0");
    STATUS(dividing_orientations_within(both, sum, 0, NULL, NULL, &held), DIVIDING_STATUS_OK,
           "within");
    CHECK(held, "quarters and sixths are twelfths");
    STATUS(dividing_orientations_within(sum, both, 0, NULL, NULL, &held), DIVIDING_STATUS_OK,
           "within");
    CHECK(!held, "1/12 is neither");
    STATUS(dividing_orientations_of_cosets(&none, &eighth, 1, &four),
           DIVIDING_STATUS_OUT_OF_RANGE, "order 0");
    CHECK(strcmp(dividing_last_error_field(), "orders[0].order") == 0,
          dividing_last_error_field());
    dividing_orientations_free(four);
    dividing_orientations_free(six);
    dividing_orientations_free(both);
    dividing_orientations_free(sum);
    dividing_orientations_free(common);
}

/* Of twelve holes the fourth, hole 3, is absent: a square needs four holes three
 * apart, so that it can begin at every hole but 0, 3, 6 and 9; two at right
 * angles at every hole but 0 and 3. A plate holds no fifths. */
static void starts(void) {
    dividing_workshop *workshop = NULL;
    dividing_ways *ways = NULL;
    dividing_orientations *plate = NULL, *found = NULL;
    dividing_fraction square[4], hole = {0, 12};
    const dividing_fraction fifths[] = {{0, 1}, {1, 5}};
    size_t count = 77;
    bool held = false;
    int i;
    STATUS(dividing_workshop_from_json(
               "{\"format\":1,\"name\":\"w\",\"equipment\":[{\"direct_plate\":{\"name\":\"p\","
               "\"circles\":[{\"holes\":12,\"absent\":[3],\"pitch_radius\":50}]}}]}",
               Z, &workshop),
           DIVIDING_STATUS_OK, "workshop");
    STATUS(dividing_ways_new(workshop, NULL, 0, NULL, NULL, &ways), DIVIDING_STATUS_OK, "ways");
    dividing_workshop_free(workshop);
    STATUS(dividing_ways_orientations(ways, 1, &plate), DIVIDING_STATUS_NOT_FOUND, "way 1");
    STATUS(dividing_ways_orientations(ways, 0, &plate), DIVIDING_STATUS_OK, "plate");
    dividing_ways_free(ways);
    for (i = 0; i < 4; i++) {
        square[i].numerator = i;
        square[i].denominator = 4;
    }
    STATUS(dividing_orientations_exact_starts(plate, square, 4, 0, NULL, NULL, &found),
           DIVIDING_STATUS_OK, "square");
    for (i = 0; i < 12; i++) {
        hole.numerator = i;
        STATUS(dividing_orientations_hold(found, hole, &held), DIVIDING_STATUS_OK, "hole");
        CHECK(held == (i % 3 != 0), "a square");
    }
    dividing_orientations_free(found);
    found = NULL;
    STATUS(dividing_orientations_exact_starts(plate, square, 2, 0, NULL, NULL, &found),
           DIVIDING_STATUS_OK, "right angle");
    for (i = 0; i < 12; i++) {
        hole.numerator = i;
        STATUS(dividing_orientations_hold(found, hole, &held), DIVIDING_STATUS_OK, "hole");
        CHECK(held == (i != 0 && i != 3), "a right angle");
    }
    dividing_orientations_free(found);
    found = NULL;
    STATUS(dividing_orientations_exact_starts(plate, fifths, 2, 0, NULL, NULL, &found),
           DIVIDING_STATUS_OK, "fifths");
    STATUS(dividing_orientations_coset_count(found, &count), DIVIDING_STATUS_OK, "count");
    CHECK(count == 0, "no start");
    dividing_orientations_free(found);
    dividing_orientations_free(plate);
}

void test_orientations(void) {
    algebra();
    starts();
}
