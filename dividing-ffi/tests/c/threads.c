/*
 * Several threads: each with its own handle and last error, then all reading
 * one handle.
 */
#include "suite.h"

#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { THREADS = 8, ROUNDS = 20 };

typedef struct worker {
    pthread_t thread;
    bool started;
    int number;
    const dividing_plans *shared;
    const char *wanted; /* the sheet of the shared plans */
    unsigned wrong;
} worker;

static void *work(void *argument) {
    worker *self = (worker *)argument;
    int round;
    for (round = 0; round < ROUNDS; round++) {
        dividing_plans *own = NULL;
        char *text = NULL;
        char bad[40];
        dividing_fraction turns;

        /* The last error is this thread's own. */
        snprintf(bad, sizeof bad, "%d parsnips", self->number);
        if (dividing_angle_parse(bad, DIVIDING_NUL_ENDED, &turns) == DIVIDING_STATUS_OK ||
            strstr(dividing_last_error_message(), bad) == NULL) {
            self->wrong++;
        }
        if (dividing_plans_new(WORKSHOP, DIVIDING_NUL_ENDED, NINE_SLOTS, DIVIDING_NUL_ENDED,
                               &own) != DIVIDING_STATUS_OK ||
            dividing_plans_sheet_text(own, 0, &text) != DIVIDING_STATUS_OK ||
            strcmp(text, self->wanted) != 0) {
            self->wrong++;
        }
        dividing_text_free(text);
        dividing_plans_free(own);
        text = NULL;
        if (dividing_plans_sheet_text(self->shared, 0, &text) != DIVIDING_STATUS_OK ||
            strcmp(text, self->wanted) != 0) {
            self->wrong++;
        }
        dividing_text_free(text);
        if (strstr(dividing_last_error_message(), bad) == NULL) {
            self->wrong++;
        }
    }
    return NULL;
}

void test_threads(void) {
    worker workers[THREADS];
    dividing_plans *plans = NULL;
    char *sheet = NULL;
    int i;
    STATUS(dividing_plans_new(WORKSHOP, DIVIDING_NUL_ENDED, NINE_SLOTS, DIVIDING_NUL_ENDED,
                              &plans),
           DIVIDING_STATUS_OK, "nine slots");
    STATUS(dividing_plans_sheet_text(plans, 0, &sheet), DIVIDING_STATUS_OK, "sheet");
    if (sheet != NULL) {
        memset(workers, 0, sizeof workers);
        for (i = 0; i < THREADS; i++) {
            workers[i].number = i;
            workers[i].shared = plans;
            workers[i].wanted = sheet;
            workers[i].started =
                pthread_create(&workers[i].thread, NULL, work, &workers[i]) == 0;
            CHECK(workers[i].started, "a thread");
        }
        for (i = 0; i < THREADS; i++) {
            if (workers[i].started) {
                pthread_join(workers[i].thread, NULL);
            }
            CHECK(workers[i].wrong == 0, "a thread's own results");
        }
    }
    dividing_text_free(sheet);
    dividing_plans_free(plans);
}
