/**
 * A page without a sheet: it only wears the paper that was chosen.
 * @module pages/guide
 */

import { wearTheme } from "../core/theme.js";

wearTheme();
