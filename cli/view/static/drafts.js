// What was typed and not sent yet is kept in this browser, so that a closed tab loses nothing.
// A form names itself by data-draft; what was kept is offered back, not put in unasked.

const KEPT = "draft:";
const MOST_DAYS = 30;

for (const form of document.querySelectorAll("form[data-draft]")) {
  const name = KEPT + form.dataset.draft;
  const before = fields(form).map((one) => one.defaultValue);  // as served
  offer(form, name, before);
  if (snapshot(form).join("\n") !== before.join("\n")) keep(form, name, before);  // typed already
  form.addEventListener("input", () => keep(form, name, before));
  form.addEventListener("submit", () => forget(name));
}

function fields(form) {
  return [...form.elements].filter((one) => one.name && one.name !== "token"
    && ["text", "textarea", ""].includes(one.type || "") && one.type !== "hidden");
}

function snapshot(form) {
  return fields(form).map((one) => one.value);
}

function keep(form, name, before) {
  const now = snapshot(form);
  try {
    if (now.join("\n") === before.join("\n")) localStorage.removeItem(name);
    else localStorage.setItem(name, JSON.stringify({ at: Date.now(), now, before }));
  } catch { /* no storage here: nothing is kept */ }
}

function forget(name) {
  try { localStorage.removeItem(name); } catch { /* as above */ }
}

function offer(form, name, before) {
  let kept = null;
  try { kept = JSON.parse(localStorage.getItem(name) || "null"); } catch { return; }
  if (!kept || !Array.isArray(kept.now) || Date.now() - kept.at > MOST_DAYS * 86400000) {
    forget(name);
    return;
  }
  if (kept.now.length !== before.length || kept.now.join("\n") === before.join("\n")) return;
  const box = document.createElement("p");
  box.className = "draft row";
  box.setAttribute("role", "status");
  box.append("You had begun to write here.");
  box.append(key("Take it up again", () => {
    fields(form).forEach((one, n) => { one.value = kept.now[n]; });
    box.remove();
  }), key("Let it go", () => { forget(name); box.remove(); }));
  form.prepend(box);
}

function key(label, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.className = "key";
  made.textContent = label;
  made.addEventListener("click", act);
  return made;
}
