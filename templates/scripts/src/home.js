/** The search field of the home page: hands its words to the page of all exercises. */

import { writeState } from "./address.js";
import { part } from "./page.js";

const form = part("find", HTMLFormElement);
const field = part("q", HTMLInputElement);

form.hidden = false;
form.addEventListener("submit", (event) => {
  event.preventDefault();
  location.href = form.dataset.list + writeState(new Map([["q", field.value.trim()]]));
});
