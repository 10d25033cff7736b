/* Boxes that take numbers as carvers type them. What cannot be read is marked and never computed with. */
const typed = (function() {
  const read = readNumber;

  /* Turns a text box into one that takes numbers. `rule`: own (unit of the value), low, high, name,
     empty (an empty box means that nothing is stated), use(value or null): called for each change.
     While the box cannot be read the value from before the typing holds. */
  function field(box, note, rule) {
    let value = null, before, typing = false, refused = false, timer = 0;
    const shown = v => v === null ? ""
                                  : (rule.own === "mm" ? text.fixed(v / unit.mm, unit.inch ? 5 : 4)
                                                       : text.fixed(v, 4))
                                        .replace(/\.?0+$/, "");
    const spoken = v => shown(v) + (rule.own === "mm" ? " " + unit.name
                                    : rule.own        ? " " + rule.own
                                                      : "");
    const good = v => v !== null && v >= rule.low - 1e-9 && v <= rule.high + 1e-9;
    const isEmpty = () => rule.empty && box.value.trim() === "";
    function mark() {
      refused = !isEmpty() && !good(read(box.value, rule.own));
      box.setAttribute("aria-invalid", String(refused));
      note.hidden = !refused;
      if (!refused) {
        note.textContent = "";
        return;
      }
      note.textContent =
          (read(box.value, rule.own) === null
               ? (box.value.trim() === "" ? "A number is missing. "
                                          : "\u201c" + box.value.trim() + "\u201d is no number. ") +
                     "Write it as 0.6, 0,6 or 5/8" +
                     (rule.own === "mm" ? ", with or without mm or in. " : ". ")
               : rule.name + " must be " +
                     (rule.high < 1e6
                          ? spoken(rule.low) + " to " + spoken(rule.high) +
                                " on this page; for more, change the job and check again. "
                          : "more than 0. ")) +
          (before === null ? "Nothing is computed from it." : spoken(before) + " still holds.");
    }
    box.type = "text";
    box.autocomplete = "off";
    box.spellcheck = false;
    note.setAttribute("role", "alert");
    note.hidden = true;
    box.setAttribute("aria-describedby", note.id);
    box.addEventListener("input", function() {
      if (!typing) typing = true, before = rule.empty ? null : value;
      const v = isEmpty() ? null : read(box.value, rule.own),
            next = isEmpty() || good(v) ? v : before;
      clearTimeout(timer);
      if (next === v) mark();
      else timer = setTimeout(mark, 900); /* 0,6 begins with 0 */
      if (next !== value) value = next, rule.use(value);
    });
    box.addEventListener("change", function() {
      clearTimeout(timer);
      if (typing) mark();
      typing = false;
      if (!refused) box.value = shown(value);
    });
    return {
      /* The value was changed elsewhere. */
      show(v) {
        value = v;
        typing = false;
        clearTimeout(timer);
        box.value = shown(v);
        mark();
      },
      /* The unit shown was changed: words that were refused stay to be mended. */
      unitChanged() {
        box.inputMode =
            unit.inch || rule.low < 0 ? "text" : "decimal"; /* fractions and signs need all keys */
        if (refused) mark();
        else box.value = shown(value);
      }
    };
  }
  return {read, field};
})();
