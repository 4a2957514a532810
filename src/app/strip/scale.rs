//! How large the cord lies on the strip.
//!
//! The scales are few and plain, so that the words on the tape's end can be
//! trusted: a maker reads "3 × life size" and can divide by three.

/// Times life size, smallest first.
const SCALES: [f32; 17] = [
    0.5, 0.75, 1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 5.0, 7.0, 10.0, 14.0, 20.0, 28.0, 40.0, 56.0, 80.0,
];

/// Times life size of what is looked at from close by: in whole times, as the words
/// say it, and no more than the wheel gives.
pub(super) fn whole(times: f32) -> f32 {
    times.floor().clamp(1.0, SCALES[SCALES.len() - 1])
}

/// The scales the strip picks by itself.
const OWN_CHOICE: [f32; 7] = [1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 5.0];

/// Height of the linen, points, for which [`BAND`] is meant.
const FULL_LINEN: f32 = 122.0;

/// Thickness at which a cord is well seen on the full linen: least, best, most.
const BAND: (f32, f32, f32) = (48.0, 80.0, 92.0);

/// How the strip's scale is found.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Scale {
    /// The one that shows the cord best.
    #[default]
    Best,
    /// Life size.
    Life,
    /// Times life size, chosen by the maker.
    Times(f32),
}

impl Scale {
    /// Times life size for a cord of `thickness` mm on `linen` points of height.
    pub fn times(self, thickness: f64, linen: f32, per_mm: f32) -> f32 {
        match self {
            Self::Best => best(thickness as f32 * per_mm, linen),
            Self::Life => 1.0,
            Self::Times(times) => times,
        }
    }

    /// One scale larger (`steps` > 0) or smaller than `times`.
    pub fn stepped(times: f32, steps: i32) -> Self {
        let here = SCALES
            .iter()
            .position(|&s| s >= times - 1e-3)
            .unwrap_or(SCALES.len() - 1);
        let there = (here as i32 + steps).clamp(0, SCALES.len() as i32 - 1);
        Self::Times(SCALES[there as usize])
    }
}

/// The scale that brings a cord of `life` points nearest to the best
/// thickness, within the band if any does.
fn best(life: f32, linen: f32) -> f32 {
    let share = linen / FULL_LINEN;
    let (least, wanted, most) = (BAND.0 * share, BAND.1 * share, BAND.2 * share);
    let off = |times: &f32| {
        let shown = times * life;
        let outside = (least - shown).max(shown - most).max(0.0);
        // Outside the band weighs more than any distance within it.
        1000.0 * outside + (shown - wanted).abs()
    };
    OWN_CHOICE
        .into_iter()
        .min_by(|a, b| off(a).total_cmp(&off(b)))
        .unwrap_or(1.0)
}

/// The scale in words: "3½ × life size", "life size"; "about life size" until the
/// screen is measured.
pub(super) fn words(times: f32, is_measured: bool) -> String {
    if (times - 1.0).abs() < 1e-3 {
        let about = if is_measured { "" } else { "about " };
        return format!("{about}life size");
    }
    if (4.0 * times - (4.0 * times).round()).abs() > 1e-2 {
        return format!("{times:.2} × life size");
    }
    let whole = times.floor();
    let rest = match ((times - whole) * 4.0).round() as i32 {
        1 => "¼",
        2 => "½",
        3 => "¾",
        _ => "",
    };
    let whole = if whole > 0.0 {
        format!("{whole}")
    } else {
        String::new()
    };
    format!("{whole}{rest} × life size")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_everyday_cord_is_shown_within_the_band() {
        let per_mm = 96.0 / 25.4;
        for thickness in [4.0, 5.0, 6.4, 8.0, 12.0, 20.0] {
            let times = Scale::Best.times(thickness, FULL_LINEN, per_mm);
            let shown = times * thickness as f32 * per_mm;
            assert!(
                (48.0..=92.0).contains(&shown),
                "{thickness} mm is shown {shown} points thick"
            );
        }
    }

    #[test]
    fn steps_up_and_down_come_back_to_where_they_began() {
        let Scale::Times(up) = Scale::stepped(2.5, 1) else {
            panic!("a step gives a chosen scale")
        };
        assert_eq!(Scale::stepped(up, -1), Scale::Times(2.5), "there and back");
        assert_eq!(
            Scale::stepped(80.0, 1),
            Scale::Times(80.0),
            "nothing larger"
        );
    }

    #[test]
    fn scales_are_written_with_fractions() {
        let said = [0.5, 1.0, 1.5, 3.0, 3.5].map(|times| words(times, false));
        let want = [
            "½ × life size",
            "about life size",
            "1½ × life size",
            "3 × life size",
            "3½ × life size",
        ];
        assert_eq!(said, want.map(str::to_owned), "the words on the tape");
        assert_eq!(words(1.0, true), "life size", "once the screen is measured");
        assert_eq!(words(0.17, true), "0.17 × life size", "no plain fraction");
    }
}
