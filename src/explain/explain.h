/* SPDX-License-Identifier: Apache-2.0 */
/*
 * All of this layer in one header, for those who only ask: sentences, values, parts, findings, places, faults.
 */
#ifndef EXPLAIN_EXPLAIN_H
#define EXPLAIN_EXPLAIN_H

#include "explain/fault.h"
#include "explain/finding.h"
#include "explain/message.h"
#include "explain/part.h"
#include "explain/path.h"
#include "explain/value.h"

#endif
