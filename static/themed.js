/**
 * A page without a sheet: it only wears the paper that was chosen.
 * @module themed
 */

import { wearTheme } from "./theme.js";

wearTheme();
