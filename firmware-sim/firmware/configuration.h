/*
 * The settings in use, and those in waiting that `set` changes and `save` makes good.
 */
#ifndef CONFIGURATION_H
#define CONFIGURATION_H

#include "lines.h"

/* Reads the stored settings and takes them into use. */
void configuration_init(void);

const struct settings *configuration_in_use(void);
enum settings_status configuration_status(void);

/* Commands. `save` begins; configuration_saving tells how it goes on. */
enum answer configuration_set_command(const char *key, const char *value);
enum answer configuration_save_command(void);

/* True while a save goes on. When it is over, `*answer` is the answer to it, and good settings are in use. */
bool configuration_saving(enum answer *answer);

#endif
