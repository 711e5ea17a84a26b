// Small comforts. Every page works without this file.

// After a refused form, begin where it says what is wrong.
document.querySelector(".error-summary")?.focus();

// A second click while the first is on its way does nothing. The server guards against it as well.
for (const form of document.querySelectorAll('form[method="post"]')) {
  let sent = false;
  form.addEventListener("submit", (event) => {
    if (sent) event.preventDefault();
    sent = true;
  });
  // A page that comes back from the browser's own memory may be sent again.
  window.addEventListener("pageshow", () => { sent = false; });
}

// Back to a form that was sent: it comes filled in but under a fresh name. Give it the name it was sent under, so that
// sending it again is the same act and not a second game.
for (const name of document.querySelectorAll('form[method="post"] input[name="submission"]')) {
  const kept = `sent:${location.pathname}`;
  const [arrival] = performance.getEntriesByType("navigation");
  const sent = sessionStorage.getItem(kept);
  if (arrival?.type === "back_forward" && sent) name.value = sent;
  name.form.addEventListener("submit", () => sessionStorage.setItem(kept, name.value));
}

// A number with a minus and a plus beside it, each big enough for a thumb.
for (const input of document.querySelectorAll("input.stepper")) {
  const box = document.createElement("span");
  box.className = "stepper-box";
  input.replaceWith(box);
  const label = document.querySelector(`label[for="${input.id}"]`)?.firstChild?.textContent.trim() ?? "";
  box.append(step(input, -1, "\u2212", label), input, step(input, 1, "+", label));
}

function step(input, by, sign, label) {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = sign;
  button.setAttribute("aria-label", `${sign}1 ${label}`);
  button.addEventListener("click", () => {
    const least = input.min === "" ? -Infinity : Number(input.min);
    const most = input.max === "" ? Infinity : Number(input.max);
    input.value = Math.min(most, Math.max(least, (Number(input.value) || 0) + by * (Number(input.step) || 1)));
    input.dispatchEvent(new Event("input", { bubbles: true }));
    input.dispatchEvent(new Event("change", { bubbles: true }));
  });
  return button;
}

// An open menu closes by Escape and by a click beside it.
for (const menu of document.querySelectorAll("details.menu")) {
  menu.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    menu.open = false;
    menu.querySelector("summary").focus();
  });
  document.addEventListener("click", (event) => { if (!menu.contains(event.target)) menu.open = false; });
}
