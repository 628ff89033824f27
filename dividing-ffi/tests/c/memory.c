/*
 * Ten million calls, one in ten of them refused: the memory of the process does
 * not grow.
 */
#include "suite.h"

#include <math.h>
#include <stdio.h>
#include <unistd.h>

/* Resident memory in bytes; 0 where the system does not say. */
static double resident(void) {
    unsigned long whole = 0, here = 0;
    FILE *file = fopen("/proc/self/statm", "r");
    if (file != NULL) {
        if (fscanf(file, "%lu %lu", &whole, &here) != 2) {
            here = 0;
        }
        fclose(file);
    }
    return (double)here * (double)sysconf(_SC_PAGESIZE);
}

static void calls(long count) {
    long i, refused = 0;
    for (i = 0; i < count; i++) {
        /* Nine on 18 holes; on 20 and the like it is refused. */
        refused += isnan(dividing_crank_holes(40, 1, 9, i % 10 == 0 ? 20 : 18));
    }
    CHECK(refused == (count + 9) / 10, "one in ten is refused");
}

void test_memory(void) {
    const long count = quick ? 20000 : 10000000;
    double before;
    calls(count / 100);
    before = resident();
    calls(count);
    /* A leak of one byte a refusal would be a million. Quick is for checkers of
     * memory, which keep much themselves and see leaks their own way. */
    CHECK(quick || resident() - before < 256 * 1024, "memory after many calls");
}
