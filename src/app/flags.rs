//! Flags: strands and places that a finding is about, marked alike on the disc,
//! on the strip and in the words beside them.
//!
//! Each flag has a line of its own, a tag of its own shape round the strand's
//! letter, and a colour: grey print keeps them apart.

use eframe::egui::{Align2, Color32, Painter, Pos2, Shape, Stroke, Vec2, vec2};

use super::examiner::{Finding, Outcome};
use super::fonts::Face;
use super::stitch::{self, Dashes};
use super::theme::Theme;
use crate::structure::Place;
use crate::topology::Verdict;

/// What a strand is marked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Flag {
    /// A fault of the moves is about it.
    Fault,
    /// It belongs to the part that does not hold.
    Loose,
    /// It belongs to the other part.
    Other,
    /// It is the core that the others hold in.
    Core,
}

/// Who is marked, and which places.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Flags {
    /// Strands with their flag, by strand.
    pub strands: Vec<(usize, Flag)>,
    /// Places on the disc.
    pub places: Vec<Place>,
}

impl Flags {
    /// What to mark for a finding; of several faults the one that is shown.
    pub fn of(finding: &Finding, shown_fault: usize) -> Self {
        let mut flags = match &finding.outcome {
            Outcome::AtFault(faults) => {
                let Some(found) = faults.get(shown_fault).or(faults.first()) else {
                    return Self::default();
                };
                let fault = &found.error.fault;
                let marked = fault.strands().into_iter().map(|s| (s, Flag::Fault));
                Self {
                    strands: marked.collect(),
                    places: fault.places(),
                }
            }
            Outcome::Braid(facts) => Self::of_verdict(&facts.verdict, finding.moves.start.len()),
            Outcome::Unknown => Self::default(),
        };
        flags.strands.sort_unstable();
        flags.strands.dedup_by_key(|(strand, _)| *strand);
        flags
    }

    fn of_verdict(verdict: &Verdict, strands: usize) -> Self {
        let parts = match verdict {
            // Nothing holds any of them.
            Verdict::SlidesApart(_) => vec![(0..strands).collect()],
            other => other.parts(),
        };
        let first = match verdict {
            Verdict::Locks { .. } => Flag::Core,
            _ => Flag::Loose,
        };
        let flagged = parts.iter().zip([first, Flag::Other]);
        Self {
            strands: flagged
                .flat_map(|(part, flag)| part.iter().map(move |&strand| (strand, flag)))
                .collect(),
            places: Vec::new(),
        }
    }

    /// The flag of a strand.
    pub fn on(&self, strand: usize) -> Option<Flag> {
        let found = self.strands.iter().find(|(one, _)| *one == strand);
        found.map(|(_, flag)| *flag)
    }
}

impl Flag {
    /// What is said of a strand with it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Fault => "at fault",
            Self::Loose => "not held",
            Self::Other => "the other part",
            Self::Core => "core",
        }
    }

    /// Its colour.
    pub fn colour(self, theme: &Theme) -> Color32 {
        match self {
            Self::Fault => theme.stop,
            Self::Loose => theme.caution,
            Self::Other => theme.ink,
            Self::Core => theme.ok,
        }
    }

    /// A line in its pattern, on a paler one that parts it from any thread.
    pub fn line(self, painter: &Painter, path: &[Pos2], theme: &Theme) {
        if stitch::length(path) < 3.0 {
            return;
        }
        let colour = self.colour(theme);
        let (width, shapes) = match self {
            Self::Fault => (2.4, stitch::dashed(path, dashes(2.4, 5.0, 6.0), colour)),
            Self::Loose => (2.6, stitch::dotted(path, 2.6, 6.0, colour)),
            Self::Other => (1.6, stitch::dashed(path, dashes(1.6, 12.0, 5.0), colour)),
            Self::Core => (1.4, stitch::thread(path.to_vec(), 1.4, colour)),
        };
        let paler = stitch::thread(path.to_vec(), width + 1.6, theme.paper);
        painter.extend(paler);
        painter.extend(shapes);
    }

    /// The strand's letter in the shape of the flag.
    pub fn tag(self, painter: &Painter, centre: Pos2, radius: f32, letter: &str, theme: &Theme) {
        let colour = self.colour(theme);
        let edge = Stroke::new(2.0, colour);
        let outline = self.outline(centre, radius);
        painter.add(Shape::convex_polygon(outline, theme.paper, edge));
        if self == Self::Core {
            painter.circle_stroke(centre, radius - 3.0, Stroke::new(1.0, colour));
        }
        if radius >= 6.5 {
            let size = (1.1 * radius).min(if letter.chars().count() > 1 {
                10.0
            } else {
                14.0
            });
            let font = Face::Bold.at(size);
            painter.text(centre, Align2::CENTER_CENTER, letter, font, theme.ink);
        }
    }

    /// Eight corners, four, four on end, or a ring.
    fn outline(self, centre: Pos2, radius: f32) -> Vec<Pos2> {
        let (corners, out, turn) = match self {
            Self::Fault => (8, 1.12, 0.125),
            Self::Loose => (4, 1.3, 0.25),
            Self::Other => (4, 1.42, 0.0),
            Self::Core => (32, 1.05, 0.0),
        };
        let corner = |k: usize| {
            let share = (k as f32 + 0.5 * turn * 4.0) / corners as f32;
            centre + out * radius * Vec2::angled(share * std::f32::consts::TAU)
        };
        (0..corners).map(corner).collect()
    }
}

fn dashes(width: f32, dash: f32, gap: f32) -> Dashes {
    Dashes { width, dash, gap }
}

/// A place on the disc that a fault is about: a square frame round its number.
pub fn frame(painter: &Painter, centre: Pos2, radius: f32, theme: &Theme) {
    let rect = eframe::egui::Rect::from_center_size(centre, vec2(2.0, 2.0) * radius);
    let outline = stitch::rounded_outline(rect, 3.0);
    painter.extend(stitch::thread(outline.clone(), 4.0, theme.paper));
    painter.extend(stitch::dashed(&outline, dashes(2.2, 4.0, 5.0), theme.stop));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::topology::Slide;

    fn of(verdict: &Verdict) -> Vec<(usize, Flag)> {
        Flags::of_verdict(verdict, 4).strands
    }

    #[test]
    fn both_parts_are_marked_and_told_apart() {
        let cords = Verdict::TwoCords {
            one: vec![0, 2],
            other: vec![1, 3],
        };
        let marked = of(&cords);
        assert_eq!(marked.len(), 4);
        assert_eq!(marked[0], (0, Flag::Loose));
        assert_eq!(marked[3], (3, Flag::Other));
    }

    #[test]
    fn where_nothing_holds_all_are_marked_and_where_all_hold_none() {
        assert_eq!(of(&Verdict::SlidesApart(Slide::Parallel)).len(), 4);
        assert!(of(&Verdict::Locks { core: Vec::new() }).is_empty());
        let core = Verdict::Locks { core: vec![1] };
        assert_eq!(of(&core), [(1, Flag::Core)]);
    }

    #[test]
    fn of_several_faults_the_one_shown_is_marked() {
        let list = "slots 32\nstart 1 9 17 25\n2 > 3\n1 > 9";
        let finding = Finding::of(list.parse().expect("a list"));
        assert_eq!(finding.faults().len(), 2, "{finding:?}");
        assert_eq!(Flags::of(&finding, 0).places, [Place::slot(2)]);
        let second = Flags::of(&finding, 1);
        assert_eq!(second.places, [Place::slot(9)]);
        assert_eq!(second.strands, [(0, Flag::Fault), (1, Flag::Fault)]);
    }
}
