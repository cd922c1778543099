/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Where a property stands in a bike's file, as a JSON pointer.
 */
#ifndef APP_PATH_H
#define APP_PATH_H

#include "base/text.h"

/* Appends such as /frame/hub_width_mm, /fitted/crank/spindle, /use. subject as in fit_read: a slot, FIT_BIKE, FIT_FRAME,
 * FIT_WHEEL, FIT_NOW + slot, or FIT_MEASURE + id (the property that the measure is taken from); property may be a derived
 * one (the sprockets that it comes from). */
void app_path(struct base_buffer *out, unsigned subject, unsigned property);

#endif
