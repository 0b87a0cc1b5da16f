// The text of the plan, and its lines numbered and marked beside it.

export class Paper {
  /** @param {HTMLTextAreaElement} area @param {HTMLElement} gutter */
  constructor(area, gutter) {
    this.area = area;
    this.gutter = gutter;
    /** @type {Map<number, string>} */
    this.marks = new Map();
    area.addEventListener("scroll", () => { gutter.scrollTop = area.scrollTop; });
  }

  get text() {
    return this.area.value;
  }

  set text(text) {
    this.area.value = text;
    this.number();
  }

  /** Marks by line. @param {Map<number, string>} marks */
  mark(marks) {
    this.marks = marks;
    this.number();
  }

  number() {
    const count = this.area.value.split("\n").length;
    const rows = [];
    for (let line = 1; line <= count; line++) {
      const mark = this.marks.get(line);
      if (mark) {
        const strong = document.createElement("b");
        strong.textContent = `${mark} ${line}\n`;
        rows.push(strong);
      } else {
        rows.push(`${line}\n`);
      }
    }
    this.gutter.replaceChildren(...rows, "\n\n\n");
    this.gutter.scrollTop = this.area.scrollTop;
  }

  /** Puts the caret on a line and brings it into sight. @param {number} line */
  goTo(line) {
    const lines = this.area.value.split("\n");
    const start = lines.slice(0, line - 1).reduce((sum, each) => sum + each.length + 1, 0);
    this.area.focus();
    this.area.setSelectionRange(start, start + (lines[line - 1] ?? "").length);
    const row = parseFloat(getComputedStyle(this.area).lineHeight);
    this.area.scrollTop = Math.max(0, (line - 1) * row - this.area.clientHeight / 2);
    this.area.scrollLeft = 0;
  }
}
