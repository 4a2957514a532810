//! The matrix of Fox's differentials, worked from bottom to top.
//!
//! See [`alexander`](super::alexander) for what it is of. A *row* stands for the
//! loop round a line, written in the loops round the lines of the lower cut and of
//! the lowest places: its *columns*. A highest place makes two rows equal; one
//! column is written in the others then, and is free for the next lowest place.

use super::crossings::{Crossings, Event, Line};
use super::residue::{Residue, determinant};

/// Greatest common divisor.
pub(super) fn common(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { common(b, a % b) }
}

/// The variables at the place where a polynomial is evaluated.
pub(super) struct Colours {
    /// Along the cells.
    pub(super) along: Residue,
    /// For each cycle those of its strands, or of as many as can be told apart.
    of_cycles: Vec<Vec<Colour>>,
}

/// Variable of a strand.
#[derive(Debug, Clone, Copy)]
pub(super) struct Colour {
    pub(super) round: Residue,
    /// One over it.
    back: Residue,
}

impl Colours {
    pub(super) fn new(rounds: &[i64], cells: usize, variable: impl Fn(u64) -> Residue) -> Self {
        let mut number = 0;
        let mut next = || {
            number += 1;
            let round = variable(number);
            Colour {
                round,
                back: round.inverse(),
            }
        };
        let told = |&round: &i64| common(round, cells as i64).max(1);
        let of_cycles = rounds
            .iter()
            .map(|round| (0..told(round)).map(|_| next()).collect());
        Self {
            of_cycles: of_cycles.collect(),
            along: variable(0),
        }
    }

    /// The strand that a line is part of when it is met in a later cell.
    pub(super) fn of(&self, line: Line, cell: usize) -> Colour {
        let strands = &self.of_cycles[line.cycle];
        strands[(line.copy - cell as i64).rem_euclid(strands.len() as i64) as usize]
    }
}

/// Rows of the matrix while it is worked from bottom to top.
///
/// Going behind a line of `t` a row of `u` becomes `(row + (u - 1) front) / t` or
/// `t row + (1 - u) front`.
pub(super) struct Sweep {
    /// Row of each line that is there.
    rows: Vec<Vec<Residue>>,
    /// Rows of the lines of the lower cut.
    bottom: Vec<Vec<Residue>>,
    /// Columns that stand for nothing at present.
    spare: Vec<usize>,
    columns: usize,
    /// Whether the next lowest place is the one whose column is left out: of
    /// closed curves one equation follows from the others.
    leave_out: bool,
    /// Equations that followed from others.
    idle: usize,
    product: Residue,
}

impl Sweep {
    pub(super) fn new(crossings: &Crossings) -> Self {
        let begins = |event: &&Event| matches!(event, Event::Begin(..));
        let begun = crossings.events.iter().filter(begins).count();
        let cut = crossings.joins.len();
        let columns = cut + begun;
        let unit = |column: usize| {
            let mut row = vec![Residue::ZERO; columns];
            row[column] = Residue::ONE;
            row
        };
        let bottom: Vec<Vec<Residue>> = (0..cut).map(unit).collect();
        let mut rows = vec![Vec::new(); crossings.lines.len()];
        for (&(_, below), row) in crossings.joins.iter().zip(&bottom) {
            rows[below].clone_from(row);
        }
        Self {
            rows,
            bottom,
            spare: (cut..columns).collect(),
            columns,
            leave_out: cut == 0,
            idle: 0,
            product: Residue::ONE,
        }
    }

    /// Everything that happens in one cell to the lines that are kept.
    pub(super) fn pass(
        &mut self,
        crossings: &Crossings,
        kept: impl Fn(usize) -> bool,
        colour: impl Fn(usize) -> Colour,
    ) {
        let falls = |line: usize| !crossings.lines[line].rises;
        for event in &crossings.events {
            match *event {
                Event::Cross { front, back, right } if kept(front) && kept(back) => {
                    self.cross(
                        (front, colour(front)),
                        (back, colour(back)),
                        right != falls(front),
                    );
                }
                Event::Begin(a, b) if kept(a) => self.begin(a, b),
                Event::End(a, b) if kept(a) => self.end(a, b),
                _ => {}
            }
        }
    }

    /// One line goes behind another; `out` if to the left of the front line's own
    /// direction.
    fn cross(&mut self, (front, of): (usize, Colour), (back, own): (usize, Colour), out: bool) {
        let (keep, add) = if out {
            (of.back, (own.round - Residue::ONE) * of.back)
        } else {
            (of.round, Residue::ONE - own.round)
        };
        let of_front = std::mem::take(&mut self.rows[front]);
        for (entry, &of_front) in self.rows[back].iter_mut().zip(&of_front) {
            *entry = keep * *entry + add * of_front;
        }
        self.rows[front] = of_front;
    }

    fn begin(&mut self, a: usize, b: usize) {
        let mut row = vec![Residue::ZERO; self.columns];
        if !std::mem::take(&mut self.leave_out) {
            let column = self.spare.pop().expect("an end gives its column back");
            row[column] = Residue::ONE;
        }
        self.rows[b].clone_from(&row);
        self.rows[a] = row;
    }

    fn end(&mut self, a: usize, b: usize) {
        let (a, b) = (
            std::mem::take(&mut self.rows[a]),
            std::mem::take(&mut self.rows[b]),
        );
        let equation: Vec<Residue> = a.iter().zip(&b).map(|(&a, &b)| a - b).collect();
        let Some(column) = equation.iter().position(|&entry| entry != Residue::ZERO) else {
            self.idle += 1;
            return;
        };
        self.product = self.product * equation[column];
        let over = equation[column].inverse();
        for row in self.rows.iter_mut().chain(&mut self.bottom) {
            let Some(&entry) = row.get(column).filter(|&&entry| entry != Residue::ZERO) else {
                continue;
            };
            let share = entry * over;
            for (entry, &of_equation) in row.iter_mut().zip(&equation) {
                *entry = *entry - share * of_equation;
            }
        }
        self.spare.push(column);
    }

    /// Lines of the upper cut become those of the lower cut of the next cell.
    pub(super) fn go_on(&mut self, joins: &[(usize, usize)]) {
        let above = |&(above, _): &(usize, usize)| std::mem::take(&mut self.rows[above]);
        let rows: Vec<Vec<Residue>> = joins.iter().map(above).collect();
        for (row, &(_, below)) in rows.into_iter().zip(joins) {
            self.rows[below] = row;
        }
    }

    /// The determinant, once the upper cut is the lower one again.
    pub(super) fn closed(self, joins: &[(usize, usize)], along: Residue) -> Residue {
        let expected = usize::from(joins.is_empty());
        if self.idle != expected {
            return Residue::ZERO;
        }
        let live: Vec<usize> = (0..self.columns)
            .filter(|c| !self.spare.contains(c))
            .collect();
        let row = |(&(_, below), bottom): (&(usize, usize), &Vec<Residue>)| {
            let entry = |&column: &usize| self.rows[below][column] - along * bottom[column];
            live.iter().map(entry).collect()
        };
        self.product * determinant(joins.iter().zip(&self.bottom).map(row).collect())
    }
}

#[cfg(test)]
mod tests {
    use super::super::alexander::tests::of_one_colour;
    use super::*;

    fn whole(number: i32) -> Residue {
        let size = (0..number.abs()).fold(Residue::ZERO, |sum, _| sum + Residue::ONE);
        if number < 0 { -size } else { size }
    }

    /// A polynomial by its coefficients, at a place and at the inverse place.
    fn both(coefficients: &[i32], t: Residue) -> Residue {
        let at = |t| {
            coefficients
                .iter()
                .fold(Residue::ZERO, |sum, &c| sum * t + whole(c))
        };
        at(t) * at(t.inverse())
    }

    /// The polynomial in one variable of a closed word, without its powers.
    fn of_closure(strands: usize, word: &[i32], t: Residue) -> Residue {
        let crossings = of_one_colour(strands, word);
        let at = |t: Residue| {
            let mut sweep = Sweep::new(&crossings);
            let back = t.inverse();
            sweep.pass(&crossings, |_| true, |_| Colour { round: t, back });
            sweep.go_on(&crossings.joins);
            // Without the first row and column: one equation follows.
            let row = |at: usize| {
                let entry = |to| sweep.rows[crossings.joins[at].1][to] - sweep.bottom[at][to];
                (1..strands).map(entry).collect()
            };
            determinant((1..strands).map(row).collect())
        };
        at(t) * at(t.inverse())
    }

    /// C. Livingston, A. Moore, tables of knots and links (2026).
    #[test]
    fn closed_words_have_the_published_alexander_polynomials() {
        let published: [(usize, &[i32], &[i32]); 15] = [
            (2, &[1, 1], &[1, -1]),
            (2, &[1, 1, 1], &[1, -1, 1]),
            (2, &[1; 4], &[1, -1, 1, -1]),
            (2, &[1; 5], &[1, -1, 1, -1, 1]),
            (3, &[1, 2], &[1]),
            (3, &[1, -2, 1, -2], &[1, -3, 1]),
            (3, &[1, -2, 1, -2, 1, -2], &[1, -4, 6, -4, 1]),
            (3, &[1, 2, 1, 2, 1, 2], &[1, -1, 0, -1, 1]),
            (3, &[1, 2, 1, 2, 1, 2, 1, 2], &[1, -1, 0, 1, 0, -1, 1]),
            (3, &[1, 1, 1, 2, -1, 2], &[2, -3, 2]),
            (3, &[-1, -1, -1, 2, -1, 2], &[1, -3, 3, -3, 1]),
            (3, &[-1, -1, 2, -1, 2, 2], &[1, -3, 5, -3, 1]),
            (3, &[1, 2].repeat(5), &[1, -1, 0, 1, -1, 1, 0, -1, 1]),
            (4, &[1, 3, -2, 1, 3, -2], &[1, -5, 5, -1]),
            (
                4,
                &[1, 3, -2].repeat(4),
                &[1, -9, 32, -64, 86, -86, 64, -32, 9, -1],
            ),
        ];
        for (strands, word, polynomial) in published {
            let t = Residue::scattered(7);
            assert_eq!(
                of_closure(strands, word, t),
                both(polynomial, t),
                "{word:?}"
            );
        }
    }

    /// The determinant of the plait closed after `k` pairs of moves is the Lucas
    /// number `L(2 k)` less two.
    #[test]
    fn determinants_of_closed_plaits_are_lucas_numbers_less_two() {
        let mut lucas = vec![2, 1];
        for number in 0..11 {
            lucas.push(lucas[number] + lucas[number + 1]);
        }
        for pairs in 2..=6 {
            let found = of_closure(3, &[1, -2].repeat(pairs), whole(-1));
            let expected = whole(lucas[2 * pairs] - 2);
            assert_eq!(found, expected * expected, "{pairs} pairs");
        }
    }
}
