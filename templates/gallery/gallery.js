"use strict";
(() => {
  const words = document.getElementById("words");
  const count = document.getElementById("count");
  const none = document.getElementById("none");
  const cards = [...document.querySelectorAll("[data-words]")];
  const show = () => {
    const wanted = words.value.toLowerCase().replaceAll("-", " ").split(/\s+/).filter(Boolean);
    let shown = 0;
    for (const card of cards) {
      card.hidden = !wanted.every((word) => card.dataset.words.includes(word));
      shown += card.hidden ? 0 : 1;
    }
    for (const group of document.querySelectorAll("section")) group.hidden = !group.querySelector("li:not([hidden])");
    count.textContent = wanted.length ? `${shown} of ${cards.length}` : "";
    none.hidden = shown > 0;
  };
  words.addEventListener("input", show);
  words.form.addEventListener("submit", (event) => event.preventDefault());
  document.addEventListener("click", async (event) => {
    const button = event.target.closest("button[data-copy]");
    if (!button) return;
    const before = button.textContent;
    try {
      await navigator.clipboard.writeText(button.dataset.copy);
      button.textContent = "Copied";
    } catch {
      button.textContent = "Mark the text and copy it";
    }
    setTimeout(() => { button.textContent = before; }, 1600);
  });
  show();
})();
