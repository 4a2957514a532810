//! The cloth tape under the cord, at the scale of the cord.

use eframe::egui::{Align2, Painter, Rect, Shape, Stroke, pos2};

use crate::app::fonts::Face;
use crate::app::theme::Theme;
use crate::quantity::UnitSystem;

/// A tick of the tape: where, how long, and what is written under it.
#[derive(Debug, Clone, PartialEq)]
struct Tick {
    /// Points from the left end.
    at: f32,
    /// Length in points.
    length: f32,
    /// Number, at the long ticks that have room for one.
    number: Option<String>,
}

/// Draws the tape with its zero at `zero` (an x on the screen) and `per_mm`
/// points to a millimetre, leaving `end` points free at the right.
pub(super) fn draw(
    painter: &Painter,
    rect: Rect,
    (zero, per_mm): (f32, f32),
    units: UnitSystem,
    end: f32,
    theme: &Theme,
) {
    painter.rect_filled(rect, 0.0, theme.tape);
    painter.hline(rect.x_range(), rect.top(), Stroke::new(1.0, theme.foamline));
    let hem = rect.top() + 3.5;
    painter.extend(Shape::dashed_line(
        &[pos2(rect.left(), hem), pos2(rect.right() - end, hem)],
        Stroke::new(1.0, theme.foamline),
        4.0,
        3.0,
    ));
    let font = Face::Semibold.at(13.0);
    // A compact tape has room for shorter ticks only.
    let share = ((rect.height() - 18.0) / 16.0).clamp(0.4, 1.0);
    for tick in ticks(rect.left() - zero, rect.right() - end - zero, per_mm, units) {
        let x = zero + tick.at;
        let y = rect.top() + tick.length * share;
        painter.vline(x, rect.top()..=y, Stroke::new(1.0, theme.ink2));
        if let Some(number) = tick.number {
            let at = pos2(x, rect.bottom() - 3.0);
            painter.text(at, Align2::CENTER_BOTTOM, number, font.clone(), theme.ink);
        }
    }
}

/// Ticks from `left` to `right`, points from zero.
fn ticks(left: f32, right: f32, per_mm: f32, units: UnitSystem) -> Vec<Tick> {
    let plan = Plan::new(units, per_mm);
    let first = (left / plan.step).ceil() as i64;
    let last = (right / plan.step).floor() as i64;
    (first..=last).map(|k| plan.tick(k, right)).collect()
}

/// How finely the tape is divided at a scale.
struct Plan {
    /// Points from tick to tick.
    step: f32,
    /// Ticks to a middle and to a long tick.
    middle: i64,
    long: i64,
    /// Long ticks from number to number.
    every: i64,
    unit: &'static str,
}

impl Plan {
    /// Millimetres grouped by five and ten; sixteenths of an inch grouped by
    /// eight and sixteen. Ticks nearer than 3 points are left out.
    fn new(units: UnitSystem, per_mm: f32) -> Self {
        let (fine, middle, long, unit) = match units {
            UnitSystem::Millimetres => (per_mm, 5, 10, "cm"),
            UnitSystem::Inches => (25.4 / 16.0 * per_mm, 8, 16, "in"),
        };
        let number = fine * long as f32;
        let every = (26.0 / number).ceil().max(1.0) as i64;
        if fine >= 3.0 {
            return Self {
                step: fine,
                middle,
                long,
                every,
                unit,
            };
        }
        Self {
            step: fine * middle as f32,
            middle: 1,
            long: long / middle,
            every,
            unit,
        }
    }

    fn tick(&self, k: i64, right: f32) -> Tick {
        let at = k as f32 * self.step;
        let count = k / self.long;
        let is_long = k % self.long == 0;
        let written = is_long && count % self.every == 0 && k >= 0 && at < right - 14.0;
        let is_middle = k % self.middle == 0;
        let length = if is_long {
            14.0
        } else if is_middle {
            10.0
        } else {
            6.0
        };
        let number = written.then(|| {
            if k == 0 {
                format!("0 {}", self.unit)
            } else {
                count.to_string()
            }
        });
        Tick { at, length, number }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_centimetre_on_the_tape_is_ten_millimetres_of_the_cord() {
        let per_mm = 7.5;
        let ticks = ticks(0.0, 200.0, per_mm, UnitSystem::Millimetres);
        let two = ticks.iter().find(|t| t.number.as_deref() == Some("2"));
        let at = two.expect("200 points hold 2 cm").at;
        assert!((at - 150.0).abs() < 1e-3, "2 cm stand at {at}");
    }

    #[test]
    fn an_inch_is_divided_into_sixteenths() {
        let ticks = ticks(0.0, 220.0, 8.0, UnitSystem::Inches);
        let one = ticks.iter().position(|t| t.number.as_deref() == Some("1"));
        assert_eq!(one, Some(16), "sixteen ticks to the inch");
    }

    #[test]
    fn numbers_stay_apart_at_every_scale() {
        for per_mm in [0.8, 1.9, 3.8, 7.6, 19.0, 75.0] {
            for units in [UnitSystem::Millimetres, UnitSystem::Inches] {
                let at: Vec<f32> = ticks(-50.0, 1200.0, per_mm, units)
                    .into_iter()
                    .filter(|t| t.number.is_some())
                    .map(|t| t.at)
                    .collect();
                let near = at.windows(2).map(|w| w[1] - w[0]).fold(f32::MAX, f32::min);
                assert!(near >= 26.0, "{per_mm}: numbers {near} points apart");
            }
        }
    }
}
