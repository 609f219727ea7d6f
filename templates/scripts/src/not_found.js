/** The page for a wrong address: a code that was typed in small letters is sought in capital ones. */

import { correctCode } from "./code_address.js";

const path = correctCode(location.pathname);
if (path) location.replace(path + location.hash);
