#include "settings.h"

#include <string.h>

#define SLOPE_LIMIT 2000000000L
#define ZERO_LOWEST (-8388608L)
#define ZERO_HIGHEST 8388607L

enum { KEY_NAME, KEY_PPT, KEY_DEBOUNCE, KEY_CELLS, KEY_DIRECTION, KEY_WARN, KEY_SLOPE, KEY_ZERO = KEY_SLOPE + CELLS_MAX };

/* One row a key; the slopes and zeros share theirs and end in the cell's number. */
static const __flash struct {
    char key[10];
    int32_t lowest, highest;
} rows[] = {
    [KEY_NAME] = {"name", 0, 0},
    [KEY_PPT] = {"ppt", 1, 2000},
    [KEY_DEBOUNCE] = {"debounce", 20, 20000},
    [KEY_CELLS] = {"cells", 1, CELLS_MAX},
    [KEY_DIRECTION] = {"direction", 0, 2},
    [KEY_WARN] = {"warn", 0, 65535},
    [KEY_SLOPE] = {"slope", -SLOPE_LIMIT, SLOPE_LIMIT},
    [KEY_SLOPE + 1] = {"zero", ZERO_LOWEST, ZERO_HIGHEST},
};

static uint8_t row_of(uint8_t index)
{
    return index < KEY_SLOPE ? index : index < KEY_ZERO ? KEY_SLOPE : KEY_SLOPE + 1;
}

/* Number of the cell, from 0, that a slope or zero belongs to. */
static uint8_t cell_of(uint8_t index)
{
    return (uint8_t)(index - (index < KEY_ZERO ? KEY_SLOPE : KEY_ZERO));
}

void settings_defaults(struct settings *settings)
{
    memset(settings, 0, sizeof *settings);
    strcpy(settings->name, "unnamed");
    settings->pulses_per_turn = 60;
    settings->debounce_us = 200;
    settings->cells = 1;
    settings->warn_pulses = 60;
    for (uint8_t cell = 0; cell < CELLS_MAX; cell++)
        settings->slope_nanograms[cell] = 1000000;
}

static bool name_valid(const char *name)
{
    uint8_t length = 0;
    for (; name[length]; length++) {
        char c = name[length];
        bool good = (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_' || c == '-';
        if (!good || length == NAME_LIMIT)
            return false;
    }
    return length > 0;
}

static int32_t get_number(const struct settings *settings, uint8_t index)
{
    switch (index) {
    case KEY_PPT: return settings->pulses_per_turn;
    case KEY_DEBOUNCE: return settings->debounce_us;
    case KEY_CELLS: return settings->cells;
    case KEY_DIRECTION: return settings->direction;
    case KEY_WARN: return settings->warn_pulses;
    default:
        return index < KEY_ZERO ? settings->slope_nanograms[cell_of(index)] : settings->zero_counts[cell_of(index)];
    }
}

static void set_number(struct settings *settings, uint8_t index, int32_t value)
{
    switch (index) {
    case KEY_PPT: settings->pulses_per_turn = (uint16_t)value; break;
    case KEY_DEBOUNCE: settings->debounce_us = (uint16_t)value; break;
    case KEY_CELLS: settings->cells = (uint8_t)value; break;
    case KEY_DIRECTION: settings->direction = (uint8_t)value; break;
    case KEY_WARN: settings->warn_pulses = (uint16_t)value; break;
    default:
        if (index < KEY_ZERO)
            settings->slope_nanograms[cell_of(index)] = value;
        else
            settings->zero_counts[cell_of(index)] = value;
    }
}

static bool number_valid(uint8_t index, int32_t value)
{
    uint8_t row = row_of(index);
    return value >= rows[row].lowest && value <= rows[row].highest && !(row == KEY_SLOPE && value == 0);
}

bool settings_valid(const struct settings *settings)
{
    if (!name_valid(settings->name))
        return false;
    for (uint8_t index = KEY_PPT; index < SETTINGS_KEYS; index++)
        if (!number_valid(index, get_number(settings, index)))
            return false;
    return true;
}

/* True when `key` is the name of setting `index`. */
static bool key_is(uint8_t index, const char *key)
{
    const __flash char *expected = rows[row_of(index)].key;
    while (*expected)
        if (*key++ != *expected++)
            return false;
    if (index >= KEY_SLOPE && *key++ != (char)('1' + cell_of(index)))
        return false;
    return *key == '\0';
}

bool settings_set(struct settings *settings, const char *key, const char *value)
{
    uint8_t index = 0;
    int32_t number;
    while (index < SETTINGS_KEYS && !key_is(index, key))
        index++;
    if (index == SETTINGS_KEYS)
        return false;
    if (index == KEY_NAME) {
        if (!name_valid(value))
            return false;
        strcpy(settings->name, value);
        return true;
    }
    if (!read_signed(value, &number) || !number_valid(index, number))
        return false;
    set_number(settings, index, number);
    return true;
}

void settings_put(struct line *line, const struct settings *settings, uint8_t index)
{
    put_flash(line, rows[row_of(index)].key);
    if (index >= KEY_SLOPE)
        put_char(line, (char)('1' + cell_of(index)));
    put_char(line, ' ');
    if (index == KEY_NAME)
        put_text(line, settings->name);
    else
        put_signed(line, get_number(settings, index));
}
