//! The tape over the lengths: whole units, no more numbers than can be read.

use eframe::egui::{Align2, Painter, Stroke, pos2};

use crate::app::fonts::Face;
use crate::app::theme::Theme;
use crate::quantity::{Length, UnitSystem};

/// Most numbers on the tape beside nought.
const MOST_NUMBERS: f64 = 7.0;

/// Where a millimetre lies on the sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Scale {
    /// Where nought lies.
    pub left: f32,
    /// Where the longest length ends.
    pub right: f32,
    /// That length, mm.
    pub most: f64,
}

impl Scale {
    /// Where a length ends.
    pub(super) fn x(&self, mm: f64) -> f32 {
        let share = (mm / self.most).clamp(0.0, 1.0) as f32;
        self.left + share * (self.right - self.left)
    }
}

/// Millimetres from number to number.
fn step(most: f64, units: UnitSystem) -> f64 {
    let (unit, steps): (f64, &[f64]) = match units {
        UnitSystem::Millimetres => (10.0, &[1.0, 2.0, 5.0]),
        UnitSystem::Inches => (Length::from_inches(1.0).mm(), &[1.0, 2.0, 3.0, 6.0]),
    };
    let mut scale = unit;
    while scale.is_finite() {
        let fits = |step: &&f64| most / (scale * **step) <= MOST_NUMBERS;
        if let Some(step) = steps.iter().find(fits) {
            return scale * step;
        }
        scale *= 10.0;
    }
    most
}

/// Draws the tape with its foot at `y`.
pub(super) fn tape(painter: &Painter, scale: Scale, y: f32, units: UnitSystem, theme: &Theme) {
    let line = Stroke::new(1.2, theme.ink2);
    painter.hline(scale.left..=scale.right, y, line);
    let (unit, name) = match units {
        UnitSystem::Millimetres => (10.0, "cm"),
        UnitSystem::Inches => (Length::from_inches(1.0).mm(), "in"),
    };
    let step = step(scale.most, units);
    let count = (scale.most / step + 1e-9).floor() as u32;
    for k in 0..=count {
        let mm = f64::from(k) * step;
        let x = scale.x(mm);
        painter.vline(x, y - 12.0..=y, line);
        for small in 1..5 {
            let at = scale.x(mm + step * f64::from(small) / 5.0);
            if at < scale.right {
                painter.vline(at, y - 6.0..=y, Stroke::new(1.0, theme.line2));
            }
        }
        let number = crate::app::words::number(mm / unit);
        let words = if k == 0 { format!("0 {name}") } else { number };
        let font = Face::Medium.at(12.5);
        painter.text(
            pos2(x, y - 15.0),
            Align2::CENTER_BOTTOM,
            words,
            font,
            theme.ink2,
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tape_has_some_numbers_and_never_too_many() {
        for units in [UnitSystem::Millimetres, UnitSystem::Inches] {
            for most in [30.0, 310.0, 2660.0, 9e4, 1e12, 1e300] {
                let numbers = most / step(most, units);
                assert!((1.0..=MOST_NUMBERS).contains(&numbers), "{most}: {numbers}");
            }
        }
    }
}
