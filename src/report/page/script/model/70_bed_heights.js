/* Height between the nodes of the bed's lattice, mm; null where nothing was read. */
function bedHeightAt(grid, x, y) {
  const [x0, y0, x1, y1] = grid.box;
  const i = (x - x0) / (x1 - x0 || 1) * (grid.nx - 1),
        j = (y - y0) / (y1 - y0 || 1) * (grid.ny - 1);
  if (!(i >= 0 && j >= 0 && i <= grid.nx - 1 && j <= grid.ny - 1)) return null;
  const a = Math.min(grid.nx - 2, i | 0), b = Math.min(grid.ny - 2, j | 0), f = i - a, g = j - b;
  const at = (p, q) => grid.values[(b + q) * grid.nx + a + p];
  const near = at(Math.round(f), Math.round(g));
  const all = [at(0, 0), at(1, 0), at(0, 1), at(1, 1)];
  if (all.some(v => v === null)) return near;
  return (all[0] * (1 - f) + all[1] * f) * (1 - g) + (all[2] * (1 - f) + all[3] * f) * g;
}

/* Round heights between lowest and highest, in the unit shown. */
function bedLevels(low, high, unit) {
  const range = (high - low) / unit.mm;
  if (!(range > 1e-6)) return {step: 0, at: [], places: 3};
  const step = roundUnder(range / 4), at = [];
  for (let k = Math.ceil(low / unit.mm / step + 1e-6); k * step < high / unit.mm - 1e-6 * step; ++k)
    at.push(k * step);
  return {step, at, places: Math.max(0, Math.ceil(-Math.log10(step) - 1e-9))};
}
