#include "configuration.h"

#include "converters.h"
#include "run.h"
#include "store.h"
#include "wheel.h"

static struct settings in_use, waiting;
static enum settings_status status;

static void take_into_use(void)
{
    wheel_configure(in_use.debounce_us, in_use.direction);
    converters_configure(in_use.cells);
}

void configuration_init(void)
{
    status = store_load(&in_use);
    waiting = in_use;
    take_into_use();
}

const struct settings *configuration_in_use(void) { return &in_use; }
enum settings_status configuration_status(void) { return status; }

static bool must_not_change(void) { return run_state() == STATE_ARMED || run_state() == STATE_TURNING; }

enum answer configuration_set_command(const char *key, const char *value)
{
    if (must_not_change())
        return ANSWER_STATE;
    return settings_set(&waiting, key, value) ? ANSWER_OK : ANSWER_VALUE;
}

enum answer configuration_save_command(void)
{
    if (must_not_change())
        return ANSWER_STATE;
    if (!settings_valid(&waiting))
        return ANSWER_VALUE;
    store_save(&waiting);
    return ANSWER_OK;
}

bool configuration_saving(enum answer *answer)
{
    enum save_progress progress = store_progress();
    if (progress == SAVE_BUSY)
        return true;
    *answer = progress == SAVE_DONE ? ANSWER_OK : ANSWER_SETTINGS;
    if (progress == SAVE_DONE) {
        in_use = waiting;
        status = SETTINGS_OK;
        take_into_use();
    }
    return false;
}
