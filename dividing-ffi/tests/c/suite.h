/*
 * What the parts of the test program share.
 */
#ifndef DIVIDING_TEST_SUITE_H
#define DIVIDING_TEST_SUITE_H

#include "dividing.h"

#include <stdbool.h>
#include <stddef.h>

/* Counts a check; a failed one is printed with its place and a few words. */
void check_at(bool good, const char *file, int line, const char *what, const char *about);

#define CHECK(condition, about) \
    check_at((condition), __FILE__, __LINE__, #condition, (about))

/* Checks the status of a call, and that the last error says the same. */
void status_at(dividing_status found, dividing_status wanted, const char *file, int line,
               const char *about);

#define STATUS(call, wanted, about) \
    status_at((call), (wanted), __FILE__, __LINE__, (about))

/* A whole file with a NUL after it, to be freed; NULL and a failed check if unreadable. */
char *read_file(const char *folder, const char *name, size_t *length);

void test_angle_vectors(const char *folder);
void test_plan_vectors(const char *folder);
void test_error_vectors(const char *folder);
void test_versions_and_statuses(void);
void test_equipment(void);
void test_feature_vectors(const char *folder);
void test_tables(const char *folder);
void test_ways(void);
void test_orientations(void);
void test_moves(void);
void test_plates(void);
void test_proof(const char *folder);
void test_numbers(void);
void test_figures(void);
void test_hostile_calls(void);
void test_watchers(void);
void test_threads(void);
void test_memory(void);

/* Whether long searches are cut short, for checkers of memory that are slow. */
extern bool quick;

/* A workshop and a job that the tests use: a 40:1 head and nine slots. */
extern const char *const WORKSHOP;
extern const char *const NINE_SLOTS;

#endif
