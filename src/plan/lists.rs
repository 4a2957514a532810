//! Cut list and shopping list as text that other programs read.
//!
//! Comma-separated values by RFC 4180: a header, lines that end in CR LF, quotes where
//! they must be. Numbers have a dot and no unit; the unit stands in the header. A text that
//! a spreadsheet would take for a formula gets an apostrophe in front.

use csv::{Terminator, WriterBuilder};

use super::cut::{Cut, CutList};
use super::purchase::{Need, Shopping, Ware};
use super::workshop::PutUp;
use crate::cord::strand_name;
use crate::quantity::Money;

/// What a column of the cut list holds.
const CUT_COLUMNS: [&str; 15] = [
    "size",
    "strands",
    "fibre",
    "colour",
    "colour name",
    "ends",
    "lengths to cut",
    "length mm",
    "folded",
    "in the cord mm",
    "needed a strand mm",
    "reserve a strand mm",
    "left over a strand mm",
    "beads a length",
    "everyday rule mm",
];

/// What a column of the shopping list holds.
const SHOPPING_COLUMNS: [&str; 11] = [
    "what",
    "colour",
    "colour name",
    "unit",
    "needed",
    "on the shelf",
    "to buy",
    "sold by",
    "in one",
    "cost",
    "note",
];

impl CutList {
    /// As comma-separated values, a line for each fibre of each kind of strand; of a
    /// design of so many strands that are moved.
    pub fn csv(&self, strands: usize) -> String {
        let lines = self.cuts.iter().flat_map(|cut| self.lines(cut, strands));
        written(&CUT_COLUMNS, lines)
    }

    fn lines(&self, cut: &Cut, strands: usize) -> Vec<Vec<String>> {
        let size = self.runs.get(cut.run).map_or("", |run| run.size.as_str());
        let parts = cut.makes.parts.iter().enumerate();
        let line = parts.map(|(at, part)| {
            vec![
                text(size),
                cut.names(strands),
                text(&part.fibre),
                part.colour.to_string(),
                part.colour.name().to_owned(),
                part.ends.to_string(),
                cut.count_of(at).to_string(),
                number(cut.length),
                if cut.is_folded() { "yes" } else { "no" }.to_owned(),
                number(cut.braided),
                number(cut.chain.total.value),
                number(cut.reserve),
                number(cut.left_over),
                cut.beads
                    .map_or_else(String::new, |beads| beads.to_string()),
                number(cut.rule_of_thumb),
            ]
        });
        line.collect()
    }
}

impl Cut {
    /// Its strands by their letters, folded ones with a plus: `A+B, C`; cores by number.
    pub fn names(&self, strands: usize) -> String {
        let name = |&strand: &usize| match strand.checked_sub(strands) {
            None => strand_name(strand),
            Some(core) => format!("core {}", core + 1),
        };
        let group = |group: &Vec<usize>| group.iter().map(name).collect::<Vec<_>>().join("+");
        self.strands
            .iter()
            .map(group)
            .collect::<Vec<_>>()
            .join(", ")
    }
}

impl Shopping {
    /// As comma-separated values, a line for each ware; money with so many places.
    pub fn csv(&self, places: u8) -> String {
        written(
            &SHOPPING_COLUMNS,
            self.needs.iter().map(|need| line(need, places)),
        )
    }
}

impl PutUp {
    /// One of them in a word.
    pub fn name(self) -> &'static str {
        match self {
            Self::Spool => "spool",
            Self::Skein => "skein",
            Self::Ball => "ball",
            Self::Metre => "metre",
            Self::Packet => "packet",
        }
    }
}

impl Need {
    /// The unit of what is needed and there; empty for findings, which are counted.
    pub fn unit(&self) -> &'static str {
        match self.ware {
            Ware::Thread { .. } | Ware::Binding => "m",
            Ware::Beads { .. } => "beads",
            Ware::Finding(_) | Ware::Glue(_) => "",
        }
    }
}

fn line(need: &Need, places: u8) -> Vec<String> {
    let (what, colour) = match &need.ware {
        Ware::Thread { fibre, colour } | Ware::Beads { fibre, colour, .. } => {
            (text(fibre), Some(*colour))
        }
        other => (text(&other.words()), None),
    };
    let plain = |money: Money| money.rounded(places).amount().to_string();
    vec![
        what,
        colour.map_or_else(String::new, |colour| colour.to_string()),
        colour.map_or("", |colour| colour.name()).to_owned(),
        need.unit().to_owned(),
        number(need.needed),
        number(need.there),
        need.buy.to_string(),
        need.put_up
            .map_or("", |(put_up, _)| put_up.name())
            .to_owned(),
        need.put_up
            .map_or_else(String::new, |(_, in_one)| number(in_one)),
        need.cost.map_or_else(String::new, plain),
        text(&need.note),
    ]
}

/// To a thousandth, without noughts at its end.
fn number(value: f64) -> String {
    let plain = format!("{value:.3}");
    plain.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn text(words: &str) -> String {
    if words.starts_with(['=', '+', '-', '@', '\t']) {
        return format!("'{words}");
    }
    words.to_owned()
}

fn written(columns: &[&str], lines: impl Iterator<Item = Vec<String>>) -> String {
    let mut table = WriterBuilder::new()
        .terminator(Terminator::CRLF)
        .from_writer(Vec::new());
    let header = std::iter::once(columns.iter().map(|&c| c.to_owned()).collect());
    for record in header.chain(lines) {
        table
            .write_record(&record)
            .expect("a vector takes as many columns as it is given");
    }
    let bytes = table.into_inner().expect("a vector takes everything");
    String::from_utf8(bytes).expect("all of it was text")
}

#[cfg(test)]
mod tests {
    use crate::plan::plan;
    use crate::plan::trial::{Trial, satin, single};

    fn read(text: &str) -> Vec<Vec<String>> {
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let lines = reader.records().map(|line| line.unwrap());
        lines
            .map(|line| line.iter().map(str::to_owned).collect())
            .collect()
    }

    #[test]
    fn every_fibre_of_every_strand_has_a_line_that_reads_back() {
        let mut trial = Trial::of(vec![satin(); 4], 1.6);
        trial.strands[3]
            .parts
            .extend(single("pearl cotton no. 5").parts);
        trial.cores = vec![satin()];
        let list = plan(&trial.job()).cut;
        let text = list.csv(4);
        assert!(text.ends_with("\r\n") && text.contains("\"satin cord 2 mm, polyester\""));
        let lines = read(&text);
        let counts: Vec<_> = lines
            .iter()
            .map(|line| (line[1].as_str(), line[6].as_str()))
            .collect();
        assert_eq!(
            counts,
            [("A, B, C", "3"), ("D", "1"), ("D", "1"), ("core 1", "1")]
        );
        let length: f64 = lines[0][7].parse().unwrap();
        assert_eq!(length, list.cuts[0].length);
    }

    #[test]
    fn what_a_spreadsheet_would_work_out_is_kept_as_text() {
        let mut trial = Trial::of(vec![satin(); 4], 1.6);
        trial.piece.closure.name = "=1+1, \"quoted\"".into();
        let lines = read(&plan(&trial.job()).shopping.csv(2));
        assert!(
            lines.iter().any(|line| line[0] == "'=1+1, \"quoted\""),
            "{lines:?}"
        );
    }
}
