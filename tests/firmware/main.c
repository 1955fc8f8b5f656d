/*
 * Tests of the firmware's pure parts on a host: main <golden file> [seed] [bytes of noise].
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"

static unsigned long checks, failures;

void check_that(bool good, const char *file, int line, const char *text)
{
    checks++;
    if (good)
        return;
    failures++;
    if (failures <= 20)
        fprintf(stderr, "%s %d: not true: %s\n", file, line, text);
}

uint32_t random_next(uint32_t *state)
{
    *state ^= *state << 13;
    *state ^= *state >> 17;
    *state ^= *state << 5;
    return *state;
}

const char *row_text(const struct row *row, const char *name)
{
    for (int i = 0; i < row->fields; i++)
        if (strcmp(row->names[i], name) == 0)
            return row->values[i];
    fprintf(stderr, "row %d has no %s\n", row->number, name);
    exit(2);
}

uint32_t row_number(const struct row *row, const char *name) { return (uint32_t)strtoul(row_text(row, name), NULL, 10); }
int32_t row_signed(const struct row *row, const char *name) { return (int32_t)strtol(row_text(row, name), NULL, 10); }

static void resolve_escapes(struct row *row, const char *text)
{
    row->line_length = 0;
    for (; *text; text++) {
        char byte = *text;
        if (text[0] == '\\' && text[1] == 'x') {
            char digits[3] = {text[2], text[3], 0};
            byte = (char)strtoul(digits, NULL, 16);
            text += 3;
        }
        row->line[row->line_length++] = byte;
    }
    row->line[row->line_length] = '\0';
}

static void read_row(struct row *row, char *text)
{
    char *field = strtok(text, "\t");
    snprintf(row->kind, sizeof row->kind, "%s", field);
    resolve_escapes(row, strtok(NULL, "\t"));
    row->fields = 0;
    while ((field = strtok(NULL, "\t")) && row->fields < FIELDS_LIMIT) {
        char *value = strchr(field, '=');
        *value++ = '\0';
        snprintf(row->names[row->fields], sizeof row->names[0], "%s", field);
        snprintf(row->values[row->fields], sizeof row->values[0], "%s", value);
        row->fields++;
    }
}

/* Hands every row to the suite that knows its kind; returns how many rows there were. */
static int test_golden(const char *path)
{
    static const char *const lines[] = {"crc", "reading", "identity", "change", "answer", "setting", "health"};
    static const char *const commands[] = {"command", "refused", "dropped"};
    static const char *const images[] = {"copy", "void", "eeprom"};
    char text[4096];
    int number = 0, rows = 0;
    FILE *file = fopen(path, "r");
    if (!file) {
        perror(path);
        exit(2);
    }
    while (fgets(text, sizeof text, file)) {
        struct row row = {.number = ++number};
        text[strcspn(text, "\n")] = '\0';
        if (text[0] == '#')
            continue;
        read_row(&row, text);
        rows++;
        bool known = strcmp(row.kind, "broken") == 0; /* lines from a board: the link's business */
        for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++)
            if (strcmp(row.kind, lines[i]) == 0 && (known = true))
                golden_line(&row);
        for (size_t i = 0; i < sizeof commands / sizeof commands[0]; i++)
            if (strcmp(row.kind, commands[i]) == 0 && (known = true))
                golden_command(&row);
        for (size_t i = 0; i < sizeof images / sizeof images[0]; i++)
            if (strcmp(row.kind, images[i]) == 0 && (known = true))
                golden_image(&row);
        CHECK_ROW(known, row.number);
    }
    fclose(file);
    return rows;
}

int main(int count, char **arguments)
{
    if (count < 2) {
        fprintf(stderr, "usage: %s <golden file> [seed] [bytes of noise]\n", arguments[0]);
        return 2;
    }
    uint32_t seed = count > 2 ? (uint32_t)strtoul(arguments[2], NULL, 10) : 1;
    uint32_t bytes = count > 3 ? (uint32_t)strtoul(arguments[3], NULL, 10) : 1000000;
    int rows = test_golden(arguments[1]);
    CHECK(rows > 200);
    test_image();
    test_rules();
    test_samples();
    test_receiver();
    test_noise(seed, bytes);
    printf("%d golden rows, %lu checks, %lu failed\n", rows, checks, failures);
    return failures ? 1 : 0;
}
