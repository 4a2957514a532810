//! Cells that repeat two ways, in a plane: upwards along z, across along y.
//!
//! A cell stands so many periods up and so many across. As with cells above one
//! another a pair is looked at from one side only: what lies below, or straight
//! to the left, is the same pair seen from the other side. So levels number half
//! of the plane, shell by shell round the own cell, which is level 0.
//!
//! Knows no tubes and no lengths.

/// Shells that are ever looked at.
pub(super) const MOST_SHELLS: usize = 12;

/// Levels one period up and one period across.
pub(super) const UP: usize = 1;
/// See [`UP`].
pub(super) const ACROSS: usize = 2;

/// Periods up and across from the own cell.
pub(super) type Cell = [i64; 2];

/// The cells in sight, numbered, and those that a strand in them may run on into.
#[derive(Debug, Clone)]
pub(super) struct Lattice {
    cells: Vec<Cell>,
    /// Level of every cell in a square round the own one; 0 of those never looked at.
    levels: Vec<usize>,
}

impl Lattice {
    pub(super) fn new() -> Self {
        let most = MOST_SHELLS as i64 + 1;
        let across = |up| (-most..=most).map(move |across| [up, across]);
        let mut cells: Vec<Cell> = (0..=most).flat_map(across).filter(is_listed).collect();
        cells.sort_by_key(|cell| (shell(cell), cell[0].abs() + cell[1].abs(), cell[1]));
        let mut lattice = Self {
            levels: vec![0; side() * (MOST_SHELLS + 2)],
            cells,
        };
        for (level, cell) in lattice.cells.iter().enumerate() {
            lattice.levels[place(cell)] = level;
        }
        lattice
    }

    /// Highest level within so many shells.
    pub(super) fn highest(shells: usize) -> usize {
        2 * shells * (shells + 1)
    }

    /// Shells within which the levels up to this one lie.
    pub(super) fn shells(&self, level: usize) -> usize {
        shell(&self.cells[level]) as usize
    }

    /// Where the cell at a level stands.
    pub(super) fn cell(&self, level: usize) -> Cell {
        self.cells[level]
    }

    /// The level seen at `level` as seen from the cell at level `from`.
    pub(super) fn onward(&self, from: usize, level: usize) -> usize {
        let ([a, b], [c, d]) = (self.cells[from], self.cells[level]);
        self.levels[place(&[a + c, b + d])]
    }
}

/// Above, or beside to the right.
fn is_listed(&[up, across]: &Cell) -> bool {
    up > 0 || across >= 0
}

fn shell(cell: &Cell) -> i64 {
    cell[0].abs().max(cell[1].abs())
}

fn side() -> usize {
    2 * MOST_SHELLS + 3
}

fn place(&[up, across]: &Cell) -> usize {
    let right = across + MOST_SHELLS as i64 + 1;
    up as usize * side() + right as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_cell_or_the_one_opposite_has_one_level() {
        let lattice = Lattice::new();
        let shown = Lattice::highest(3);
        let of = |cell: Cell| (0..=shown).filter(|&l| lattice.cell(l) == cell).count();
        for up in -3..=3 {
            for across in -3..=3 {
                let own = usize::from(up == 0 && across == 0);
                let both = of([up, across]) + of([-up, -across]);
                assert_eq!(both, 1 + own, "{up} up, {across} across");
            }
        }
        assert_eq!([lattice.shells(shown), lattice.shells(shown + 1)], [3, 4]);
    }

    #[test]
    fn a_strand_runs_on_into_the_cell_one_period_on() {
        let lattice = Lattice::new();
        assert_eq!([lattice.cell(UP), lattice.cell(ACROSS)], [[1, 0], [0, 1]]);
        for level in 0..=Lattice::highest(MOST_SHELLS) {
            let [up, across] = lattice.cell(level);
            let on = |step| lattice.cell(lattice.onward(level, step));
            assert_eq!([on(UP), on(ACROSS)], [[up + 1, across], [up, across + 1]]);
        }
    }
}
