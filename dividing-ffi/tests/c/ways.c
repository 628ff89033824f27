/*
 * Ways of equipment and the exact sets that they hold.
 */
#include "read.h"

/* An indexer of 36 holes whose ten stations stand 11 degrees apart holds every
 * whole degree (10 holes less a degree each), and a block with four faces. */
static dividing_workshop *shop(void) {
    dividing_fraction stations[10];
    dividing_vernier_indexer indexer;
    dividing_faced_block block;
    dividing_equipment *made[2] = {NULL, NULL};
    const dividing_equipment *pieces[2];
    dividing_workshop *workshop = NULL;
    int i;
    memset(&indexer, 0, sizeof indexer);
    memset(&block, 0, sizeof block);
    for (i = 0; i < 10; i++) {
        stations[i].numerator = 11 * i;
        stations[i].denominator = 360;
    }
    indexer.name = "indexer";
    indexer.circle.holes = 36;
    indexer.stations = stations;
    indexer.station_count = 10;
    block.name = "block";
    block.faces = 4;
    STATUS(dividing_equipment_vernier_indexer(&indexer, &made[0]), DIVIDING_STATUS_OK, "indexer");
    STATUS(dividing_equipment_faced_block(&block, &made[1]), DIVIDING_STATUS_OK, "block");
    pieces[0] = made[0];
    pieces[1] = made[1];
    STATUS(dividing_workshop_new("w", pieces, 2, &workshop), DIVIDING_STATUS_OK, "workshop");
    dividing_equipment_free(made[0]);
    dividing_equipment_free(made[1]);
    return workshop;
}

static dividing_job *divisions(uint32_t count) {
    dividing_equal_divisions fields;
    dividing_job *job = NULL;
    memset(&fields, 0, sizeof fields);
    fields.count = count;
    STATUS(dividing_job_equal_divisions("j", &fields, NULL, &job), DIVIDING_STATUS_OK, "job");
    return job;
}

static void sets(const dividing_ways *ways) {
    const dividing_fraction degree = {137, 360}, half = {1, 720}, none = {1, 0};
    dividing_way indexer, block;
    dividing_setting setting;
    uint64_t orders[40], places = 0;
    dividing_fraction through[40];
    char *kind = NULL;
    bool held = false;
    size_t i;
    STATUS(dividing_ways_get(ways, 0, &indexer), DIVIDING_STATUS_OK, "indexer");
    STATUS(dividing_ways_get(ways, 1, &block), DIVIDING_STATUS_OK, "block");
    CHECK(indexer.equipment == 0 && indexer.orientation_count == 360, "every whole degree");
    CHECK(!indexer.has_fine_points && indexer.coset_count <= 40, "cosets");
    CHECK(block.equipment == 1 && block.orientation_count == 4 && block.full_order == 4 &&
              block.coset_count == 1,
          "four faces");
    STATUS(dividing_ways_kind_json(ways, 1, &kind), DIVIDING_STATUS_OK, "kind");
    CHECK(kind != NULL && strcmp(kind, "\"block_flat\"") == 0, kind);
    dividing_text_free(kind);
    orders[0] = 77;
    STATUS(dividing_ways_cosets(ways, 1, orders, through, 0), DIVIDING_STATUS_BUFFER_TOO_SMALL,
           "no room");
    CHECK(orders[0] == 77, "an output touched on failure");
    STATUS(dividing_ways_cosets(ways, 1, orders, through, 1), DIVIDING_STATUS_OK, "block");
    CHECK(orders[0] == 4 && through[0].numerator == 0, "four faces");
    STATUS(dividing_ways_cosets(ways, 0, orders, through, 40), DIVIDING_STATUS_OK, "indexer");
    for (i = 0; i < indexer.coset_count; i++) {
        places += orders[i];
    }
    CHECK(places == 360, "as many as were counted");
    STATUS(dividing_ways_holds(ways, 0, degree, &held), DIVIDING_STATUS_OK, "137 degrees");
    CHECK(held, "137 degrees");
    STATUS(dividing_ways_holds(ways, 0, half, &held), DIVIDING_STATUS_OK, "half a degree");
    CHECK(!held, "half a degree");
    STATUS(dividing_ways_holds(ways, 0, none, &held), DIVIDING_STATUS_OUT_OF_RANGE, "1/0");
    STATUS(dividing_ways_setting(ways, 0, degree, &setting), DIVIDING_STATUS_OK, "setting");
    CHECK(setting.kind == DIVIDING_SETTING_KIND_HOLE_AT_STATION, "setting");
    STATUS(dividing_ways_setting(ways, 0, half, &setting), DIVIDING_STATUS_NOT_FOUND,
           "half a degree");
    CHECK(strcmp(dividing_last_error_field(), "turns") == 0, dividing_last_error_field());
    STATUS(dividing_ways_get(ways, 2, &block), DIVIDING_STATUS_NOT_FOUND, "way 2");
}

void test_ways(void) {
    dividing_workshop *workshop = shop();
    dividing_job *all = divisions(360), *seven = divisions(7);
    dividing_ways *ways = NULL;
    dividing_reach reach;
    size_t count = 0;
    memset(&reach, 0, sizeof reach);
    STATUS(dividing_ways_new(workshop, all, 0, NULL, NULL, &ways), DIVIDING_STATUS_OK, "a job");
    dividing_ways_free(ways);
    STATUS(dividing_ways_new(workshop, NULL, 0, NULL, NULL, &ways), DIVIDING_STATUS_OK, "ways");
    dividing_workshop_free(workshop);
    STATUS(dividing_ways_count(ways, &count), DIVIDING_STATUS_OK, "count");
    CHECK(count == 2, "one of each piece");
    sets(ways);
    STATUS(dividing_ways_reach(ways, 0, all, 0, NULL, NULL, &reach), DIVIDING_STATUS_OK, "360");
    CHECK(reach.exact && reach.largest_residual.numerator == 0, "360");
    /* Sevenths of a turn lie sevenths of a degree off, three at most: 3/7 of 1/360. */
    STATUS(dividing_ways_reach(ways, 0, seven, 0, NULL, NULL, &reach), DIVIDING_STATUS_OK, "7");
    CHECK(!reach.exact && reach.largest_residual.numerator == 1 &&
              reach.largest_residual.denominator == 840,
          "3/7 of a degree");
    dividing_ways_free(ways);
    dividing_job_free(all);
    dividing_job_free(seven);
}
