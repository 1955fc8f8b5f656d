/*
 * The few words that the firmware's host tests are written in.
 */
#ifndef CHECK_H
#define CHECK_H

#include <stdbool.h>
#include <stdint.h>

/* Counts a check; prints where and what when it fails. */
#define CHECK(condition) check_that((condition), __FILE__, __LINE__, #condition)
#define CHECK_ROW(condition, row) check_that((condition), "row", (row), #condition)

void check_that(bool good, const char *file, int line, const char *text);

/* A golden row: its kind, the line with its \xNN escapes resolved, and its meaning. */
#define FIELDS_LIMIT 24
struct row {
    int number;
    char kind[16];
    char line[1024];
    int line_length;
    int fields;
    char names[FIELDS_LIMIT][16];
    char values[FIELDS_LIMIT][160];
};

/* Value of a field of the row; the test ends when there is none. */
const char *row_text(const struct row *row, const char *name);
uint32_t row_number(const struct row *row, const char *name);
int32_t row_signed(const struct row *row, const char *name);

/* Seeded random numbers (xorshift), the same on every machine. */
uint32_t random_next(uint32_t *state);

/* The suites. */
void golden_line(const struct row *row);
void golden_command(const struct row *row);
void golden_image(const struct row *row);
void test_image(void);
void test_rules(void);
void test_samples(void);
void test_receiver(void);
void test_noise(uint32_t seed, uint32_t bytes);

#endif
