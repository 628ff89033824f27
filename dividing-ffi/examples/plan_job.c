/*
 * The main job from C99: plans a job on a workshop, both JSON files, lists the
 * plans, prints the best one's settings and sheet, and writes its picture.
 *
 *     plan_job workshop.json job.json [picture.svg]
 */
#include <dividing.h>

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

/* A whole file as text with a NUL at its end, or NULL. */
static char *read_file(const char *path) {
    char *text = NULL;
    long size = -1;
    FILE *file = fopen(path, "rb");
    if (file != NULL && fseek(file, 0, SEEK_END) == 0) {
        size = ftell(file);
    }
    if (size >= 0 && fseek(file, 0, SEEK_SET) == 0) {
        text = malloc((size_t)size + 1);
    }
    if (text != NULL) {
        text[fread(text, 1, (size_t)size, file)] = '\0';
    } else {
        fprintf(stderr, "%s: cannot be read\n", path);
    }
    if (file != NULL) {
        fclose(file);
    }
    return text;
}

/* Whether a call succeeded; if not, says why. */
static int good(dividing_status status) {
    if (status != DIVIDING_STATUS_OK) {
        fprintf(stderr, "%s: %s\n", dividing_status_name(status), dividing_last_error_text());
    }
    return status == DIVIDING_STATUS_OK;
}

static const char *verdict_text(dividing_verdict verdict) {
    switch (verdict) {
    case DIVIDING_VERDICT_PASS:
        return "pass";
    case DIVIDING_VERDICT_NO_TOLERANCE:
        return "no tolerance";
    case DIVIDING_VERDICT_NOT_PROVEN:
        return "not proven";
    default:
        return "fail";
    }
}

static int list_plans(const dividing_plans *plans) {
    size_t count, i;
    if (!good(dividing_plans_count(plans, &count))) {
        return 0;
    }
    for (i = 0; i < count; i++) {
        dividing_plan plan;
        if (!good(dividing_plans_get(plans, i, &plan))) {
            return 0;
        }
        printf("%2zu. %s: %s, %s, worst case %.4f degrees, %s\n", i + 1, plan.equipment,
               plan.method, plan.exact ? "exact" : "nearest", plan.error.worst_deg,
               verdict_text(plan.verdict));
    }
    return 1;
}

static int list_settings(const dividing_plans *plans) {
    dividing_plan plan;
    size_t i;
    if (!good(dividing_plans_get(plans, 0, &plan))) {
        return 0;
    }
    for (i = 0; i < plan.step_count; i++) {
        dividing_fraction attained, residual;
        char *setting;
        if (!good(dividing_plans_step_attained(plans, 0, i, &attained)) ||
            !good(dividing_plans_step_residual(plans, 0, i, &residual)) ||
            !good(dividing_plans_step_setting_text(plans, 0, i, &setting))) {
            return 0;
        }
        printf("%3zu  %" PRId64 "/%" PRId64 " turn, residual %" PRId64 "/%" PRId64 "  %s\n",
               i + 1, attained.numerator, attained.denominator, residual.numerator,
               residual.denominator, setting);
        dividing_text_free(setting);
    }
    return 1;
}

static int print_sheet(const dividing_plans *plans) {
    char *sheet;
    if (!good(dividing_plans_sheet_text(plans, 0, &sheet))) {
        return 0;
    }
    printf("\n%s", sheet);
    dividing_text_free(sheet);
    return 1;
}

static int write_picture(const dividing_plans *plans, const char *path) {
    char *svg;
    FILE *file;
    int written;
    if (!good(dividing_plans_drawing_svg(plans, 0, &svg))) {
        return 0;
    }
    file = fopen(path, "wb");
    written = file != NULL && fputs(svg, file) >= 0;
    if (file != NULL && fclose(file) != 0) {
        written = 0;
    }
    if (!written) {
        fprintf(stderr, "%s: cannot be written\n", path);
    }
    dividing_text_free(svg);
    return written;
}

int main(int count, char **arguments) {
    char *workshop = NULL, *job = NULL;
    dividing_plans *plans = NULL;
    int done = 0;
    if (count != 3 && count != 4) {
        fprintf(stderr, "plan_job workshop.json job.json [picture.svg]\n");
        return 2;
    }
    workshop = read_file(arguments[1]);
    job = read_file(arguments[2]);
    if (workshop != NULL && job != NULL &&
        good(dividing_plans_new(workshop, DIVIDING_NUL_ENDED, job, DIVIDING_NUL_ENDED,
                                &plans))) {
        done = list_plans(plans) && list_settings(plans) && print_sheet(plans) &&
               (count < 4 || write_picture(plans, arguments[3]));
    }
    dividing_plans_free(plans);
    free(job);
    free(workshop);
    return done ? EXIT_SUCCESS : EXIT_FAILURE;
}
