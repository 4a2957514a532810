//! Our own icons: drawings on a grid of 20, a line 1.6 wide at every size.
//!
//! A drawing is a path in the notation of SVG 1.1, section 8.3, of which the
//! commands `M L H V Q T A a Z` are read. Each is cut into polylines once and
//! kept. No fill, round ends.

use std::sync::OnceLock;

use eframe::egui::{Color32, Painter, Pos2, Shape, Stroke, Vec2};

use super::stitch;

mod path;

/// Width of the line at every size.
const LINE: f32 = 1.6;

/// Side of the grid the drawings stand on.
const GRID: f32 = 20.0;

/// A drawing with one meaning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Icon {
    /// The disc from above.
    Look,
    /// A cord going into its cap.
    Fit,
    /// Shears.
    Cut,
    /// Two strands crossing a third.
    Braid,
    /// A card hung on a pin.
    Swatch,
    /// A thread turning back.
    Undo,
    /// A thread turning on.
    Redo,
    /// Run.
    Play,
    /// Hold.
    Pause,
    /// Run back.
    Back,
    /// Record.
    Rec,
    /// Paint.
    Brush,
    /// Two boards with reels.
    Shelf,
    /// Add.
    Plus,
    /// Take care.
    Warn,
    /// A parted thread.
    Broken,
    /// About.
    Info,
    /// Right.
    Check,
    /// Day.
    Sun,
    /// Night.
    Moon,
    /// A bit of tape.
    Rule,
    /// Onto paper.
    Print,
    /// Out of the tray.
    Send,
    /// Speak.
    Say,
    /// Earlier in a list.
    Up,
    /// Open below.
    Down,
    /// Go on.
    Right,
    /// More.
    Dots,
    /// A bead with its hole.
    Bead,
    /// Something looks wrong.
    Lens,
    /// Keep in sight.
    Pin,
    /// Take and move.
    Hand,
    /// Kept as it is.
    Lock,
    /// To buy.
    Purse,
    /// Take away.
    Minus,
    /// Take off the list.
    Cross,
    /// Open a file.
    Open,
    /// A new page.
    Page,
    /// Keep in a file.
    Keep,
    /// The other hand.
    Mirror,
}

/// Every icon with its drawing, in the order of [`Icon`].
const DRAWINGS: [(Icon, &str); 40] = [
    (
        Icon::Look,
        "M10 2a8 8 0 1 0 .01 0M10 7.6a2.4 2.4 0 1 0 .01 0M10 2V7.6M10 12.4V18M2 10H7.6M12.4 10H18",
    ),
    (
        Icon::Fit,
        "M3 5.5H9.5Q12 5.5 12 8V12Q12 14.5 9.5 14.5H3M12 10H14.2M16.3 7.9a2.1 2.1 0 1 0 .01 0M3 8.4H7.5M3 11.6H7.5",
    ),
    (
        Icon::Cut,
        "M5.2 12.2a2.6 2.6 0 1 0 .01 0M14.8 12.2a2.6 2.6 0 1 0 .01 0M6.6 12.6L14.2 2.6M13.4 12.6L5.8 2.6",
    ),
    (
        Icon::Braid,
        "M6 2Q6 5.5 10 7T14 12Q14 15.5 10 18M14 2Q14 5 11.4 6.4M8.6 7.6Q6 9 6 12Q6 14.6 8.4 16.4M10 2V4.6M10 9.6V13.4",
    ),
    (
        Icon::Swatch,
        "M4 6H16V17H4ZM10 6V3.6M10 1.6a1 1 0 1 0 .01 0M7 13.5Q8.5 10.5 10 12T13 10",
    ),
    (
        Icon::Undo,
        "M4 9H12.5A3.8 3.8 0 0 1 12.5 16.6H8M7.6 5L3.8 9L7.6 13",
    ),
    (
        Icon::Redo,
        "M16 9H7.5A3.8 3.8 0 0 0 7.5 16.6H12M12.4 5L16.2 9L12.4 13",
    ),
    (Icon::Play, "M6.5 4V16L15.5 10Z"),
    (Icon::Pause, "M7 4.5V15.5M13 4.5V15.5"),
    (Icon::Back, "M13.5 4V16L5 10Z"),
    (Icon::Rec, "M10 5a5 5 0 1 0 .01 0"),
    (
        Icon::Brush,
        "M16.8 3.2L9.6 10.8M8 10.4Q4.8 10.6 4.8 13.6Q4.8 15.6 3 16.4Q7 17.6 9.4 15.4Q11 13.6 9.8 12Z",
    ),
    (
        Icon::Shelf,
        "M3 16.5H17M3 9.5H17M5 9.5V4.5H8V9.5M10.5 9.5L12.5 4.6L15 5.6L13.4 9.5M6.4 16.5a2.2 2.2 0 1 0 -.01 0M11.5 16.5V12H15V16.5",
    ),
    (Icon::Plus, "M10 4V16M4 10H16"),
    (
        Icon::Warn,
        "M10 3.2L17.6 16.4H2.4ZM10 8.2V11.8M10 14.1V14.15",
    ),
    (
        Icon::Broken,
        "M1.8 13Q4 6.4 7.4 10.2M7.4 10.2L6.4 6.6M7.4 10.2L9.2 7.6M7.4 10.2L8.6 13.2M18.2 7Q16 13.6 12.6 9.8M12.6 9.8L13.6 13.4M12.6 9.8L10.8 12.4M12.6 9.8L11.4 6.8",
    ),
    (
        Icon::Info,
        "M10 2.6a7.4 7.4 0 1 0 .01 0M10 9.2V14M10 6.2V6.25",
    ),
    (Icon::Check, "M4 10.6L8.2 14.8L16 5.4"),
    (
        Icon::Sun,
        "M10 6.6a3.4 3.4 0 1 0 .01 0M10 1.8V3.4M10 16.6V18.2M1.8 10H3.4M16.6 10H18.2M4.2 4.2L5.3 5.3M14.7 14.7L15.8 15.8M4.2 15.8L5.3 14.7M14.7 5.3L15.8 4.2",
    ),
    (
        Icon::Moon,
        "M15.8 12.6A6.6 6.6 0 1 1 8 3.6A5.4 5.4 0 0 0 15.8 12.6Z",
    ),
    (
        Icon::Rule,
        "M2.5 7H17.5V13H2.5ZM6 7V9.6M9 7V10.6M12 7V9.6M15 7V10.6",
    ),
    (
        Icon::Print,
        "M5.5 8V3H14.5V8M5.5 14H3.5V8H16.5V14H14.5M5.5 11.8H14.5V17H5.5Z",
    ),
    (
        Icon::Send,
        "M10 12V3M6.6 6.2L10 2.8L13.4 6.2M4 10.5V16.5H16V10.5",
    ),
    (
        Icon::Say,
        "M3.5 8V12H6.4L10.4 15.4V4.6L6.4 8ZM13 7.4Q15 10 13 12.6M15.4 5.4Q18.6 10 15.4 14.6",
    ),
    (Icon::Up, "M5.5 12.5L10 8L14.5 12.5"),
    (Icon::Down, "M5.5 8L10 12.5L14.5 8"),
    (Icon::Right, "M8 5.5L12.5 10L8 14.5"),
    (Icon::Dots, "M4.5 10H4.6M10 10H10.1M15.5 10H15.6"),
    (
        Icon::Bead,
        "M10 4.2a5.8 5.8 0 1 0 .01 0M8.2 8.4a2 3.2 0 1 0 .01 0",
    ),
    (Icon::Lens, "M8.6 3a5.6 5.6 0 1 0 .01 0M12.8 12.8L17 17"),
    (Icon::Pin, "M10 12V18M7 3H13L12.2 8L14.5 11.5H5.5L7.8 8Z"),
    (
        Icon::Hand,
        "M6 11V5.6M6 9V4.2Q6 3 7.1 3T8.2 4.2V9M8.2 8V3.2Q8.2 2 9.4 2T10.6 3.2V8.6M10.6 8.8V4.2Q10.6 3 11.7 3T12.8 4.2V11L14.4 8.8Q15.4 7.8 16.4 8.8L13.4 15Q12 18 9.4 18Q5.2 18 5.2 13.4V7",
    ),
    (Icon::Lock, "M5 9H15V17H5ZM7 9V6.2A3 3 0 0 1 13 6.2V9"),
    (
        Icon::Purse,
        "M4.5 7.5H15.5L17 16.5H3ZM7.5 7.5V6A2.5 2.5 0 0 1 12.5 6V7.5",
    ),
    (Icon::Minus, "M4 10H16"),
    (Icon::Cross, "M5.4 5.4L14.6 14.6M14.6 5.4L5.4 14.6"),
    (
        Icon::Open,
        "M3 16V4.5H8L9.6 6.6H16.5V9M3 16L5.6 9H18.4L15.8 16Z",
    ),
    (Icon::Page, "M5 2.8H12L15.5 6.4V17.2H5ZM12 2.8V6.4H15.5"),
    (
        Icon::Keep,
        "M10 3V11.6M6.6 8.4L10 11.8L13.4 8.4M3.6 12.5V16.8H16.4V12.5",
    ),
    (
        Icon::Mirror,
        "M10 2.6V5M10 7.6V10M10 12.6V15M10 17.2V17.3M7.4 5.4V14.8H2.6ZM12.6 5.4V14.8H17.4Z",
    ),
];

/// The lines of one drawing; a closed one says so.
type Drawing = Vec<path::Line>;

fn drawing(icon: Icon) -> &'static Drawing {
    static CUT: OnceLock<Vec<Drawing>> = OnceLock::new();
    let all = CUT.get_or_init(|| DRAWINGS.iter().map(|(_, text)| path::lines(text)).collect());
    &all[icon as usize]
}

impl Icon {
    /// Every icon.
    pub fn all() -> impl Iterator<Item = Self> {
        DRAWINGS.iter().map(|(icon, _)| *icon)
    }

    /// Draws it `size` points wide round `centre`.
    pub fn paint(self, painter: &Painter, centre: Pos2, size: f32, colour: Color32) {
        self.paint_in(painter, centre, Vec2::splat(size / GRID), colour);
    }

    /// Draws it as a mirror shows it, for the other hand.
    pub fn paint_mirrored(self, painter: &Painter, centre: Pos2, size: f32, colour: Color32) {
        let scale = size / GRID;
        self.paint_in(painter, centre, Vec2::new(-scale, scale), colour);
    }

    fn paint_in(self, painter: &Painter, centre: Pos2, scale: Vec2, colour: Color32) {
        let at = |p: &Pos2| centre + scale * (p.to_vec2() - Vec2::splat(GRID / 2.0));
        for line in drawing(self) {
            let points: Vec<Pos2> = line.points.iter().map(at).collect();
            if line.closed {
                painter.add(Shape::closed_line(points, Stroke::new(LINE, colour)));
                continue;
            }
            painter.extend(stitch::thread(points, LINE, colour));
        }
    }

    /// Draws it filled, for an open triangle on the accent.
    pub fn paint_filled(self, painter: &Painter, centre: Pos2, size: f32, colour: Color32) {
        let scale = size / GRID;
        let at = |p: &Pos2| centre + scale * (p.to_vec2() - Vec2::splat(GRID / 2.0));
        for line in drawing(self) {
            let points = line.points.iter().map(at).collect();
            painter.add(Shape::convex_polygon(
                points,
                colour,
                Stroke::new(LINE, colour),
            ));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn drawings_stand_in_the_order_of_their_names() {
        for (place, (icon, _)) in DRAWINGS.iter().enumerate() {
            assert_eq!(*icon as usize, place, "{icon:?}");
        }
    }

    #[test]
    fn every_drawing_stays_on_its_grid() {
        for icon in Icon::all() {
            let lines = drawing(icon);
            assert!(!lines.is_empty(), "{icon:?} is empty");
            for point in lines.iter().flat_map(|line| &line.points) {
                let inside = (0.5..=19.5).contains(&point.x) && (0.5..=19.5).contains(&point.y);
                assert!(inside, "{icon:?} reaches {point:?}");
            }
        }
    }
}
