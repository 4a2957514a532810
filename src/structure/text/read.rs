//! Reading the text of a list, line by line and word by word.

use std::str::FromStr;

use super::super::plate::SIDES;
use super::super::{Move, MoveList, Place, Plate, Step, Way};
use super::TextError;

/// Most steps that `again` may make of a text; more than a round may have.
const MOST_STEPS: usize = 8192;
/// The highest slot that can be written.
const HIGHEST_SLOT: u16 = u16::MAX / 2 - 1;

impl FromStr for MoveList {
    type Err = TextError;

    fn from_str(text: &str) -> Result<Self, TextError> {
        let mut reader = Reader::default();
        for (index, line) in text.lines().enumerate() {
            let mut words = Words::of(line, index + 1);
            if let Some(first) = words.peek() {
                reader.read(&first, &mut words)?;
                words.end()?;
            }
        }
        reader.finish(text)
    }
}

/// A word with the column it begins at.
#[derive(Debug, Clone)]
struct Word {
    text: String,
    line: usize,
    column: usize,
}

impl Word {
    fn error<T>(&self, what: String) -> Result<T, TextError> {
        Err(TextError {
            line: self.line,
            column: self.column,
            what,
        })
    }
}

/// The words of a line that are still to be read.
struct Words {
    /// The last one first.
    left: Vec<Word>,
    line: usize,
    /// Just behind the line.
    end: usize,
}

impl Words {
    fn of(line: &str, number: usize) -> Self {
        let said = line.split('#').next().unwrap_or("");
        let mut left: Vec<Word> = Vec::new();
        let mut goes_on = false;
        for (index, c) in said.chars().enumerate() {
            let kind = Kind::of(c);
            let same = left
                .last()
                .is_some_and(|word| word.text.chars().all(|d| Kind::of(d) == kind));
            match left.last_mut() {
                Some(word) if goes_on && same => word.text.extend(c.to_lowercase()),
                _ if kind == Kind::Space => {}
                _ => left.push(Word {
                    text: c.to_lowercase().collect(),
                    line: number,
                    column: index + 1,
                }),
            }
            goes_on = kind != Kind::Space;
        }
        left.reverse();
        Self {
            left,
            line: number,
            end: said.trim_end().chars().count() + 1,
        }
    }

    fn peek(&self) -> Option<Word> {
        self.left.last().cloned()
    }

    fn take(&mut self, what: &str) -> Result<Word, TextError> {
        self.left.pop().ok_or_else(|| TextError {
            line: self.line,
            column: self.end,
            what: format!("{what} is missing here"),
        })
    }

    fn end(&self) -> Result<(), TextError> {
        match self.left.last() {
            Some(word) => word.error(format!("\"{}\" has no place here", word.text)),
            None => Ok(()),
        }
    }

    /// A whole number within bounds.
    fn number(&mut self, what: &str, least: i32, most: i32) -> Result<i32, TextError> {
        let word = self.take(what)?;
        match word.text.parse() {
            Ok(number) if (least..=most).contains(&number) => Ok(number),
            _ => word.error(format!(
                "\"{}\" is not {what}, a whole number from {least} to {most}",
                word.text
            )),
        }
    }

    fn word_if(&mut self, text: &str) -> bool {
        let is_next = self.left.last().is_some_and(|word| word.text == text);
        if is_next {
            self.left.pop();
        }
        is_next
    }
}

/// What hangs together in a word.
#[derive(PartialEq)]
enum Kind {
    Space,
    Arrow,
    And,
    Other,
}

impl Kind {
    fn of(c: char) -> Self {
        match c {
            _ if c.is_whitespace() => Self::Space,
            '<' | '>' => Self::Arrow,
            '&' => Self::And,
            _ => Self::Other,
        }
    }
}

/// What was read so far.
#[derive(Default)]
struct Reader {
    plate: Option<Plate>,
    slots: Option<u16>,
    start: Option<Vec<Place>>,
    steps: Vec<Step>,
    turn: Option<i32>,
}

impl Reader {
    fn read(&mut self, first: &Word, words: &mut Words) -> Result<(), TextError> {
        match first.text.as_str() {
            "plate" => self.read_plate(words),
            "slots" => self.read_slots(words),
            "start" => self.read_start(words),
            "turn" => self.read_turn(words),
            "again" => self.read_again(words),
            "rest" => {
                words.take("")?;
                self.slots_before(first)?;
                self.steps.push(Step::default());
                Ok(())
            }
            _ => self.read_step(first, words),
        }
    }

    fn read_plate(&mut self, words: &mut Words) -> Result<(), TextError> {
        let line = words.take("plate")?;
        let word = words.take("\"disc\" or \"square\"")?;
        let plate = match word.text.as_str() {
            "disc" => Plate::Disc,
            "square" => Plate::Square,
            other => return word.error(format!("\"{other}\" is neither \"disc\" nor \"square\"")),
        };
        if self.slots.is_some() {
            return line.error("the plate must be told before the slots".into());
        }
        once(&line, &mut self.plate, plate)
    }

    fn read_slots(&mut self, words: &mut Words) -> Result<(), TextError> {
        let line = words.take("slots")?;
        let slots = words.number("a number of slots", 0, i32::from(u16::MAX))?;
        once(&line, &mut self.slots, u16::try_from(slots).unwrap_or(0))
    }

    fn read_start(&mut self, words: &mut Words) -> Result<(), TextError> {
        let line = words.take("start")?;
        self.slots_before(&line)?;
        if let Some(_move) = self.steps.first() {
            return line.error("the start must be told before the first move".into());
        }
        let mut start = self.start.take().unwrap_or_default();
        while !words.left.is_empty() {
            start.push(self.place(words)?);
        }
        self.start = Some(start);
        Ok(())
    }

    fn read_turn(&mut self, words: &mut Words) -> Result<(), TextError> {
        let line = words.take("turn")?;
        let most = i32::from(u16::MAX);
        let turn = words.number("a number of slots", -most, most)?;
        once(&line, &mut self.turn, turn)
    }

    /// `again 2 on 8 times 3`.
    fn read_again(&mut self, words: &mut Words) -> Result<(), TextError> {
        let line = words.take("again")?;
        self.slots_before(&line)?;
        let most = i32::try_from(self.steps.len()).unwrap_or(i32::MAX);
        if most == 0 {
            return line.error("there is no step before this line".into());
        }
        let steps = words.number("a number of steps before", 1, most)? as usize;
        let on = half_slots_on(words)?;
        let mut times = 1;
        if words.word_if("times") {
            times = words.number("a number of times", 1, MOST_STEPS as i32)? as usize;
        }
        if self.steps.len() + steps * times > MOST_STEPS {
            return line.error(format!("this makes more than {MOST_STEPS} steps"));
        }
        let list = self.list();
        let run = self.steps[self.steps.len() - steps..].to_vec();
        for time in 1..=times {
            let on = on * i32::try_from(time).unwrap_or(0);
            self.steps
                .extend(run.iter().map(|step| list.turned_step(step, on)));
        }
        Ok(())
    }

    fn read_step(&mut self, first: &Word, words: &mut Words) -> Result<(), TextError> {
        self.slots_before(first)?;
        let mut step = Step::default();
        loop {
            let from = self.place(words)?;
            let arrow = words.take("\">\"")?;
            let to = self.place(words)?;
            match arrow.text.as_str() {
                ">" => step.moves.push(Move { from, to }),
                "<>" => {
                    if !step.moves.is_empty() {
                        return arrow.error("\"<>\" must have a line of its own".into());
                    }
                    let slots = self.slots.unwrap_or(0);
                    self.steps
                        .push(Step::exchange(from, to, way(words)?, slots));
                    return Ok(());
                }
                other => return arrow.error(format!("\">\" is expected here, not \"{other}\"")),
            }
            if !words.word_if("&") {
                break;
            }
        }
        self.steps.push(step);
        Ok(())
    }

    fn slots_before(&self, word: &Word) -> Result<(), TextError> {
        match self.slots {
            Some(_) => Ok(()),
            None => word.error("\"slots\" and how many there are must come first".into()),
        }
    }

    fn place(&self, words: &mut Words) -> Result<Place, TextError> {
        let word = words.take("a place")?;
        let slots = self.slots.unwrap_or(0);
        if word.text == "hand" {
            return Ok(Place::Hand);
        }
        if let Some(half) = half_slots(&word.text).filter(|&half| half >= 2) {
            return Ok(Place::Rim(half));
        }
        if self.plate == Some(Plate::Square) {
            return on_side(&word, slots);
        }
        word.error(format!(
            "\"{}\" is not a place: a slot such as 17, 16.5 between two slots, or hand",
            word.text
        ))
    }

    /// The list so far.
    fn list(&self) -> MoveList {
        MoveList {
            plate: self.plate.unwrap_or_default(),
            slots: self.slots.unwrap_or(0),
            ..MoveList::default()
        }
    }

    fn finish(self, text: &str) -> Result<MoveList, TextError> {
        let line = text.lines().count().max(1);
        let column = text.lines().last().map_or(0, |last| last.chars().count()) + 1;
        let missing = |what: &str| TextError {
            line,
            column,
            what: format!("the text ends without {what}"),
        };
        let list = self.list();
        self.slots.ok_or_else(|| missing("a line \"slots\""))?;
        Ok(MoveList {
            start: self.start.ok_or_else(|| missing("a line \"start\""))?,
            steps: self.steps,
            turn: self.turn,
            ..list
        })
    }
}

/// Sets what may be told once only.
fn once<T>(line: &Word, told: &mut Option<T>, value: T) -> Result<(), TextError> {
    if told.is_some() {
        return line.error(format!("\"{}\" was told before", line.text));
    }
    *told = Some(value);
    Ok(())
}

fn way(words: &mut Words) -> Result<Way, TextError> {
    let word = words.take("\"clockwise\" or \"anticlockwise\"")?;
    match word.text.as_str() {
        "clockwise" => Ok(Way::Clockwise),
        "anticlockwise" => Ok(Way::Anticlockwise),
        other => word.error(format!(
            "\"{other}\" is neither \"clockwise\" nor \"anticlockwise\""
        )),
    }
}

/// `on 8`, `back 2.5`: half slots clockwise.
fn half_slots_on(words: &mut Words) -> Result<i32, TextError> {
    let way = words.take("\"on\" or \"back\"")?;
    let sign = match way.text.as_str() {
        "on" => 1,
        "back" => -1,
        other => return way.error(format!("\"{other}\" is neither \"on\" nor \"back\"")),
    };
    let far = words.take("a number of slots")?;
    match half_slots(&far.text) {
        Some(half) => Ok(sign * i32::from(half)),
        None => far.error(format!("\"{}\" is not a number of slots", far.text)),
    }
}

/// `17` or `16.5`, in half slots.
fn half_slots(text: &str) -> Option<u16> {
    let (whole, half) = match text.strip_suffix(".5") {
        Some(whole) => (whole, 1),
        None => (text, 0),
    };
    let is_plain = whole.chars().all(|c| c.is_ascii_digit());
    let whole: u16 = whole.parse().ok().filter(|_| is_plain)?;
    (whole <= HIGHEST_SLOT).then_some(2 * whole + half)
}

/// `N3` on a square plate.
fn on_side(word: &Word, slots: u16) -> Result<Place, TextError> {
    let a_side = slots / 4;
    let side = SIDES
        .iter()
        .position(|side| word.text.starts_with(side.to_ascii_lowercase()));
    let half = side.and_then(|_| half_slots(&word.text[1..]));
    let (Some(side), Some(half)) = (side, half) else {
        return word.error(format!(
            "\"{}\" is not a place: side and number such as N3, N3.5 between two, or hand",
            word.text
        ));
    };
    if !(2..=2 * a_side + 1).contains(&half) {
        return word.error(format!("a side has places 1 to {a_side}"));
    }
    Ok(Place::Rim(
        2 * a_side * u16::try_from(side).unwrap_or(0) + half,
    ))
}

#[cfg(test)]
mod tests {
    use crate::structure::{MoveList, Place};

    /// Texts with what is said of them.
    const REFUSED: [(&str, &str); 24] = [
        (
            "",
            "line 1, column 1: the text ends without a line \"slots\"",
        ),
        (
            "slots 32\n1 > 2",
            "line 2, column 6: the text ends without a line \"start\"",
        ),
        (
            "1 > 2",
            "line 1, column 1: \"slots\" and how many there are must come first",
        ),
        (
            "slots many",
            "line 1, column 7: \"many\" is not a number of slots, a whole number from 0 to 65535",
        ),
        (
            "slots",
            "line 1, column 6: a number of slots is missing here",
        ),
        ("slots 32 33", "line 1, column 10: \"33\" has no place here"),
        (
            "slots 32\nslots 30",
            "line 2, column 1: \"slots\" was told before",
        ),
        (
            "slots 32\nstart 1 x",
            "line 2, column 9: \"x\" is not a place: a slot such as 17, 16.5 between two slots, or hand",
        ),
        (
            "slots 32\nstart 1 0.5",
            "line 2, column 9: \"0.5\" is not a place: a slot such as 17, 16.5 between two slots, or hand",
        ),
        (
            "slots 32\nstart 1\n  1 < 2",
            "line 3, column 5: \">\" is expected here, not \"<\"",
        ),
        (
            "slots 32\nstart 1\n1 >",
            "line 3, column 4: a place is missing here",
        ),
        (
            "slots 32\nstart 1\n1",
            "line 3, column 2: \">\" is missing here",
        ),
        (
            "slots 32\nstart 1\n1 > 2 3",
            "line 3, column 7: \"3\" has no place here",
        ),
        (
            "slots 32\nstart 1\n1 <> 2 left",
            "line 3, column 8: \"left\" is neither \"clockwise\" nor \"anticlockwise\"",
        ),
        (
            "slots 32\nstart 1\n1 > 2 & 3 <> 4 clockwise",
            "line 3, column 11: \"<>\" must have a line of its own",
        ),
        (
            "slots 32\nagain 1 on 8",
            "line 2, column 1: there is no step before this line",
        ),
        (
            "slots 32\n1 > 2\nagain 2 on 8",
            "line 3, column 7: \"2\" is not a number of steps before, a whole number from 1 to 1",
        ),
        (
            "slots 32\n1 > 2\nagain 1 at 8",
            "line 3, column 9: \"at\" is neither \"on\" nor \"back\"",
        ),
        (
            "slots 32\n1 > 2\nagain 1 on 8 times 8192",
            "line 3, column 1: this makes more than 8192 steps",
        ),
        (
            "slots 32\n1 > 2\nstart 1",
            "line 3, column 1: the start must be told before the first move",
        ),
        (
            "slots 32\nplate square",
            "line 2, column 1: the plate must be told before the slots",
        ),
        (
            "plate round",
            "line 1, column 7: \"round\" is neither \"disc\" nor \"square\"",
        ),
        (
            "plate square\nslots 32\nstart Q1",
            "line 3, column 7: \"q1\" is not a place: side and number such as N3, N3.5 between two, or hand",
        ),
        (
            "plate square\nslots 32\nstart n9",
            "line 3, column 7: a side has places 1 to 8",
        ),
    ];

    fn said(text: &str) -> String {
        text.parse::<MoveList>().expect_err(text).to_string()
    }

    #[test]
    fn remarks_spacing_and_case_do_not_matter() {
        let plain = "slots 32\nstart 1 9 17\n1 > 2\n2 > hand & 9 > 10\nturn -1\n";
        let loose = "# a remark\n\nSLOTS\t32 # of the disc\n start 1 9\nstart 17\n1>2\n\
                     2 >Hand&9> 10\r\n  Turn -1";
        assert_eq!(loose.parse::<MoveList>(), plain.parse());
    }

    #[test]
    fn again_turns_the_last_steps_further_each_time() {
        let list: MoveList =
            "slots 8\nstart 1 3 5\n1 > 2.5\n3 > hand\nagain 2 on 1.5 times 2\nagain 1 back 8"
                .parse()
                .expect("a list");
        let lifts: Vec<_> = list.moves().map(|(_, m)| (m.from, m.to)).collect();
        assert_eq!(lifts.len(), 7);
        assert_eq!(lifts[2], (Place::Rim(5), Place::Rim(8)));
        assert_eq!(lifts[4], (Place::Rim(8), Place::Rim(11)));
        assert_eq!(lifts[5], lifts[6]);
    }

    #[test]
    fn every_error_has_its_line_its_column_and_one_sentence() {
        for (text, sentence) in REFUSED {
            assert_eq!(said(text), sentence, "{text:?}");
        }
    }
}
