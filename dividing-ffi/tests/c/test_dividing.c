/*
 * The C tests: test_dividing FOLDER [quick], the folder of the vectors. Quick
 * makes the same calls, but cuts the long searches short.
 */
#include "suite.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static unsigned long passed, failed;
bool quick;

const char *const WORKSHOP =
    "{\"format\":1,\"name\":\"Bench\",\"equipment\":[{\"worm_head\":{\"name\":\"head\","
    "\"worm_ratio\":40,\"plates\":[{\"name\":\"plate 1\",\"circles\":[15,16,17,18,19,20]}]}}]}";

const char *const NINE_SLOTS =
    "{\"format\":1,\"name\":\"Nine slots\",\"features\":{\"equal_divisions\":"
    "{\"count\":9,\"called\":\"slot\"}}}";

void check_at(bool good, const char *file, int line, const char *what, const char *about) {
    if (good) {
        passed++;
    } else {
        failed++;
        if (failed <= 20) {
            printf("%s:%d: %s: %s\n", file, line, about, what);
        }
    }
}

void status_at(dividing_status found, dividing_status wanted, const char *file, int line,
               const char *about) {
    char words[400];
    snprintf(words, sizeof words, "%s: status %s, wanted %s; the last error: %.150s", about,
             dividing_status_name(found), dividing_status_name(wanted),
             dividing_last_error_text());
    check_at(found == wanted, file, line, "the status", words);
    if (found != DIVIDING_STATUS_OK) {
        check_at(dividing_last_error_status() == found, file, line, "the last error's status",
                 about);
        check_at(strlen(dividing_last_error_message()) > 0, file, line,
                 "the last error's message", about);
    }
}

char *read_file(const char *folder, const char *name, size_t *length) {
    char path[1000];
    char *text = NULL;
    long size = -1;
    FILE *file;
    snprintf(path, sizeof path, "%s/%s", folder, name);
    file = fopen(path, "rb");
    if (file != NULL && fseek(file, 0, SEEK_END) == 0) {
        size = ftell(file);
    }
    if (size >= 0) {
        text = (char *)malloc((size_t)size + 1);
        rewind(file);
    }
    if (text != NULL) {
        *length = fread(text, 1, (size_t)size, file);
        text[*length] = '\0';
    }
    if (file != NULL) {
        fclose(file);
    }
    CHECK(text != NULL && *length == (size_t)size, path);
    return text;
}

int main(int count, char **arguments) {
    quick = count == 3 && strcmp(arguments[2], "quick") == 0;
    if (count != 2 && !quick) {
        fprintf(stderr, "test_dividing FOLDER_OF_VECTORS [quick]\n");
        return 2;
    }
    test_versions_and_statuses();
    test_angle_vectors(arguments[1]);
    test_plan_vectors(arguments[1]);
    test_error_vectors(arguments[1]);
    test_equipment();
    test_feature_vectors(arguments[1]);
    test_tables(arguments[1]);
    test_ways();
    test_orientations();
    test_moves();
    test_plates();
    test_proof(arguments[1]);
    test_numbers();
    test_figures();
    test_hostile_calls();
    test_watchers();
    test_threads();
    test_memory();
    printf("%lu checks passed, %lu failed\n", passed, failed);
    return failed == 0 ? 0 : 1;
}
