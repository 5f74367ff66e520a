"use strict";
/* exported CellEditor */
/* global JobFields, newElement */

// What one types into in a cell: it begins with the key that was pressed, and offers names.
class CellEditor {
  static input(grid, cell, column, rendered, success, cancel) {
    const input = newElement("input", "", { type: "text", autocomplete: "off" });
    input.value = grid.first ?? cell.getValue() ?? "";
    grid.first = null;
    input.setAttribute("aria-label", cell.getColumn().getDefinition().title);
    const list = JobFields.listOf(column);
    if (list) input.setAttribute("list", list);
    // The grid tells of an edit only where the value is another one.
    const take = () => (input.value === cell.getValue() ? cancel() : success(input.value));
    rendered(() => input.focus());
    input.addEventListener("input", () =>
      grid.desk.typing(grid.section, cell.getData(), cell.getField(), input.value),
    );
    input.addEventListener("blur", take);
    input.addEventListener("keydown", (event) => {
      const step = { Enter: [1, 0], Tab: [0, event.shiftKey ? -1 : 1] }[event.key];
      event.stopPropagation();
      if (event.key === "Escape") cancel();
      if (!step) return;
      event.preventDefault();
      take();
      grid.move(cell, ...step);
    });
    return input;
  }
}
