//! The answer of `place` in words.

use super::answer::{Answer, Carried, Lies, Noted, Piece, Stands, WayBack};

impl Answer {
    pub(super) fn text(&self) -> String {
        let count = match self.under_way.len() {
            0 => "no cord is under way".to_owned(),
            1 => "one cord is under way".to_owned(),
            count => format!("{count} cords are under way"),
        };
        let mut text = format!("{}: {count}", self.name);
        if self.under_way.is_empty() && !self.start.is_empty() {
            text += &format!("\nIt is begun with {}", told(&self.start));
        }
        for piece in &self.under_way {
            text += &format!("\n\n{}", piece.text());
        }
        text
    }
}

fn told(lies: &[Lies]) -> String {
    let one = |lies: &Lies| format!("{} in {}", lies.strand, lies.place);
    lies.iter().map(one).collect::<Vec<_>>().join(", ")
}

impl Piece {
    fn text(&self) -> String {
        let held = if self.is_held { ", in a window" } else { "" };
        let mut lines = vec![format!("Piece {}{held}", self.piece)];
        if let Some(why) = &self.unreadable {
            lines.push(format!("{}: {why}", self.file));
        }
        lines.extend(self.stands.iter().flat_map(Stands::lines));
        lines.join("\n  ")
    }
}

impl Stands {
    fn lines(&self) -> Vec<String> {
        let (began, last) = (utc(self.began), utc(self.worked_last));
        let mut lines = vec![
            format!("{}, begun {began}, worked last {last}", self.name),
            format!(
                "{} moves done, {:.0} to go ({:.0} to {:.0}); round {}, motion {} of {}",
                self.done,
                self.to_go.value,
                self.to_go.low,
                self.to_go.high,
                self.round,
                self.motion,
                self.motions_a_round
            ),
            self.next_line(),
        ];
        if let Some(way) = &self.way_back {
            let WayBack {
                why,
                made,
                steps,
                lands,
            } = way;
            lines.push(format!(
                "On a way back to move {lands}, {made} of {steps} steps made: {why}"
            ));
        }
        lines.push(format!("On the disc: {}", told(&self.lies)));
        let note = |note: &Noted| format!("{}, at move {}: {}", utc(note.at), note.done, note.note);
        lines.extend(self.notes.iter().map(note));
        lines.extend(self.not_whole.clone());
        lines
    }

    fn next_line(&self) -> String {
        if self.is_finished {
            return "The cord is off the disc".to_owned();
        }
        let one = |one: &Carried| match &one.from {
            Some(from) => format!("{from} → {} (strand {})", one.to, one.strand),
            None => format!("lay strand {} in {}", one.strand, one.to),
        };
        let moves: Vec<String> = self.next.moves.iter().map(one).collect();
        let mut line = format!("Next: {}", moves.join(", then "));
        if let Some(hand) = self.next.hand {
            line += &format!(", {hand} hand");
        }
        match self.next.turned {
            0 => {}
            1 => line += ", the disc turned a quarter clockwise from the start",
            2 => line += ", the disc turned half round from the start",
            _ => line += ", the disc turned a quarter anticlockwise from the start",
        }
        if self.next.of_pair.1 > 1 {
            let (place, of) = self.next.of_pair;
            line += &format!("; {place} of {of} that belong together");
        }
        line
    }
}

/// A moment without a zone to be wrong about: `2026-11-26 17:40 UTC`.
fn utc(ms: u64) -> String {
    let at = i64::try_from(ms).ok();
    let at = at.and_then(|ms| jiff::Timestamp::from_millisecond(ms).ok());
    at.map_or_else(
        || "at a time unknown".to_owned(),
        |at| at.strftime("%Y-%m-%d %H:%M UTC").to_string(),
    )
}
