//! The figures as text and as one JSON object.

use serde::Serialize;

use crate::cord::{Cord, Hand, Section};
use crate::document::Design;
use crate::plan::{CapFit, CapVerdict, bound_end, fitting_caps};
use crate::quantity::Estimate;

fn hand(hand: Hand) -> &'static str {
    match hand {
        Hand::S => "S",
        Hand::Z => "Z",
        Hand::None => "none",
    }
}

fn structure(design: &Design) -> &str {
    design.sections.first().map_or("", |s| s.structure.as_str())
}

/// A figure in the answer, to four places; null where there is none.
#[derive(Serialize)]
pub(super) struct Spread {
    value: f64,
    low: f64,
    high: f64,
}

impl From<Estimate> for Spread {
    fn from(estimate: Estimate) -> Self {
        Self {
            value: rounded(estimate.value),
            low: rounded(estimate.low),
            high: rounded(estimate.high),
        }
    }
}

fn rounded(x: f64) -> f64 {
    (x * 1e4).round() / 1e4
}

/// The answer of `figures --json`, in this order.
#[derive(Serialize)]
struct Answer<'a> {
    name: &'a str,
    structure: &'a str,
    strands: usize,
    thickness_on_disc_mm: Spread,
    thickness_rested_mm: Spread,
    pressed_on_disc_mm: Spread,
    pressed_rested_mm: Spread,
    width_rested_mm: Spread,
    off_weight_percent: Spread,
    worked_percent: Spread,
    lengthening_percent: Spread,
    bound_end_mm: Spread,
    pitch_mm: Spread,
    moves_per_cm: Spread,
    mass_g_per_m: Spread,
    hand: &'static str,
    section: &'static str,
    bore_mm: f64,
    take_up: Vec<f64>,
    take_up_low: Vec<f64>,
    take_up_high: Vec<f64>,
    caps: Vec<CapChance>,
    guesses: &'a [String],
    remarks: &'a [String],
    solve: Went,
}

/// A cap of the list that fits or may.
#[derive(Serialize)]
struct CapChance {
    inner_mm: f64,
    /// How likely it fits.
    fits: f64,
}

/// How the solve went.
#[derive(Serialize)]
struct Went {
    converged: bool,
    residual: f64,
    evaluations: usize,
    ms: f64,
    crossings_kept: bool,
    shapes: usize,
}

/// One JSON object; what does not exist, like the pitch of a cord without lay,
/// is null.
pub(super) fn json(design: &Design, cord: &Cord, ms: f64) -> Result<String, serde_json::Error> {
    let f = &cord.figures;
    let end = |pick: fn(&Estimate) -> f64| f.take_up.iter().map(pick).map(rounded).collect();
    serde_json::to_string_pretty(&Answer {
        name: &design.name,
        structure: structure(design),
        strands: cord.figures.take_up.len(),
        thickness_on_disc_mm: f.thickness_on_disc.into(),
        thickness_rested_mm: f.thickness_rested.into(),
        pressed_on_disc_mm: f.pressed_on_disc.into(),
        pressed_rested_mm: f.pressed_rested.into(),
        width_rested_mm: f.width_rested.into(),
        off_weight_percent: f.off_weight.into(),
        worked_percent: f.worked.into(),
        lengthening_percent: f.lengthening.into(),
        bound_end_mm: end_of(design, cord).into(),
        pitch_mm: f.pitch.into(),
        moves_per_cm: f.moves_per_cm.into(),
        mass_g_per_m: f.mass.into(),
        hand: hand(f.hand),
        section: f.section.word(),
        bore_mm: rounded(f.bore),
        take_up: end(|e| e.value),
        take_up_low: end(|e| e.low),
        take_up_high: end(|e| e.high),
        caps: chances(design, cord),
        guesses: &f.guesses,
        remarks: &cord.remarks,
        solve: went(cord, ms),
    })
}

fn went(cord: &Cord, ms: f64) -> Went {
    let report = &cord.report;
    Went {
        converged: report.converged,
        residual: report.residual,
        evaluations: report.evaluations,
        ms: rounded(ms),
        crossings_kept: report.crossings_kept,
        shapes: report.shapes,
    }
}

fn line(label: &str, estimate: Estimate, unit: &str) -> String {
    let text = |x: f64| {
        // A minus sign, not a hyphen; a zero has no sign.
        let digits = if x.abs() < 10.0 { 2 } else { 1 };
        let text = format!("{x:.digits$}");
        match text.strip_prefix('-') {
            Some(rest) if rest.chars().any(|c| c.is_ascii_digit() && c != '0') => {
                format!("−{rest}")
            }
            Some(rest) => rest.to_owned(),
            None => text,
        }
    };
    if !estimate.value.is_finite() {
        return format!("{label:<28}none\n");
    }
    let (value, low, high) = (
        text(estimate.value),
        text(estimate.low),
        text(estimate.high),
    );
    format!("{label:<28}{value:>8} {unit:<7} ({low} to {high})\n")
}

/// A table for reading.
pub(super) fn text(design: &Design, cord: &Cord, ms: f64) -> String {
    let f = &cord.figures;
    let mut text = format!(
        "{}: {}, {} strands\n\n",
        design.name,
        structure(design),
        cord.figures.take_up.len()
    );
    text += &line("thickness on the disc", f.thickness_on_disc, "mm");
    text += &line("thickness rested", f.thickness_rested, "mm");
    text += &line("pressed, rested", f.pressed_rested, "mm");
    if f.section == Section::Flat {
        text += &line("width rested", f.width_rested, "mm");
    }
    text += &line("length off the weight", f.off_weight, "%");
    text += &line("length when worked", f.worked, "%");
    text += &line("both, against on the disc", f.lengthening, "%");
    text += &line("bound end", end_of(design, cord), "mm");
    text += &line(
        &format!("pitch of the lay, {}", hand(f.hand)),
        f.pitch,
        "mm",
    );
    text += &line("moves", f.moves_per_cm, "per cm");
    text += &line("mass", f.mass, "g/m");
    for (strand, take_up) in f.take_up.iter().enumerate() {
        let label = format!("take-up of strand {}", crate::cord::strand_name(strand));
        text += &line(&label, *take_up, "");
    }
    text += &format!("\n{}\n", caps(design, cord));
    text += &format!("rests on guesses: {}\n", f.guesses.join("; "));
    for remark in &cord.remarks {
        text += &format!("{remark}\n");
    }
    text += &format!(
        "solved in {ms:.0} ms, {} evaluations, {}\n",
        cord.report.evaluations,
        if cord.report.converged {
            "at rest"
        } else {
            "not fully at rest"
        }
    );
    text
}

/// Thickness of the end as the design binds it.
fn end_of(design: &Design, cord: &Cord) -> Estimate {
    bound_end(&cord.figures, &design.piece.binding)
}

/// The caps of the design that fit or may, likeliest first.
fn fitting(design: &Design, cord: &Cord) -> Vec<(f64, CapVerdict)> {
    let piece = &design.piece;
    fitting_caps(end_of(design, cord), &piece.caps, piece.glue_gap)
}

fn chances(design: &Design, cord: &Cord) -> Vec<CapChance> {
    let chance = |(cap, verdict): (f64, CapVerdict)| CapChance {
        inner_mm: cap,
        fits: rounded(verdict.fits),
    };
    fitting(design, cord).into_iter().map(chance).collect()
}

fn caps(design: &Design, cord: &Cord) -> String {
    let fitting = fitting(design, cord);
    if fitting.is_empty() {
        return "no end cap of the list fits".to_owned();
    }
    let words = |(cap, verdict): &(f64, CapVerdict)| {
        if verdict.fit == CapFit::Fits {
            return format!("{cap} mm fits");
        }
        format!("{cap} mm, {:.0} in 100", 100.0 * verdict.fits)
    };
    let all: Vec<String> = fitting.iter().map(words).collect();
    format!("end caps that may fit, inside: {}", all.join("; "))
}
