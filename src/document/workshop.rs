//! The maker's workshop: its file, and whether it is sound.
//!
//! Kept in a file of its own beside the settings: a first line
//! `// plait workshop 1` with the version, then RON. Read whole or not at all; a file
//! that cannot be read says why and is never written over. Version 1 grows only by
//! fields with defaults.
//!
//! The bounds are far outside any workshop (common practice, no source); they only
//! keep nonsense out of the sums.

use std::path::Path;
use std::sync::LazyLock;

use ron::ser::PrettyConfig;

use super::check::{At, DesignError};
use super::file::{WriteError, load, replace};
use super::format::{LARGEST, ReadError, in_our_words, not_text};
use super::locate::{not_finite, spot_of};
use crate::plan::{Bobbin, Cutting, Finding, Pace, Prices, Stock, Table, Workshop};
use crate::quantity::Money;

/// What the file is called in the folder of the settings.
pub const WORKSHOP: &str = "workshop.ron";
/// The first line.
const FIRST_LINE: &str = "// plait workshop 1";
/// Most lines of a list.
const MOST_ENTRIES: usize = 2000;
/// Most of a thing that is counted.
const MOST_OF_A_THING: u32 = 100_000;

type Checked = Result<(), DesignError>;

/// Why the workshop was not kept; its file is as it was.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum KeepWorkshopError {
    /// The file that is there cannot be read, so nothing is put over it.
    #[error("your workshop cannot be read, so nothing is put over it: {0}")]
    Unreadable(#[from] ReadError),
    /// A figure that cannot be.
    #[error(transparent)]
    Unsound(#[from] DesignError),
    /// It could not be written.
    #[error(transparent)]
    Unwritable(#[from] WriteError),
}

/// The maker's workshop; none if there is no such file yet.
///
/// # Errors
///
/// When the file cannot be read; see [`ReadError`].
pub fn workshop(file: &Path) -> Result<Option<Workshop>, ReadError> {
    if matches!(file.try_exists(), Ok(false)) {
        return Ok(None);
    }
    let bytes = load(file, LARGEST)?;
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(&bytes);
    let text = str::from_utf8(bytes).map_err(|error| not_text(bytes, error.valid_up_to()))?;
    read(text).map(Some)
}

fn read(text: &str) -> Result<Workshop, ReadError> {
    if text.lines().next().map(str::trim_end) != Some(FIRST_LINE) {
        return Err(ReadError::NotAWorkshop);
    }
    let workshop: Workshop = ron::from_str(text).map_err(|error| in_our_words(text, &error))?;
    if let Some((spot, word)) = not_finite(text) {
        let word = word.to_owned();
        return Err(ReadError::NotFinite { spot, word });
    }
    workshop.check().map_err(|fault| {
        let spot = spot_of(text, &fault.way);
        ReadError::Unsound { spot, fault }
    })?;
    Ok(workshop)
}

/// Keeps the workshop in the place of the one that was there.
///
/// # Errors
///
/// When it is not sound, when the older file cannot be read, or when the file cannot be
/// written; the file is then as it was.
pub fn keep_workshop(file: &Path, workshop_to_keep: &Workshop) -> Result<(), KeepWorkshopError> {
    workshop_to_keep.check()?;
    workshop(file)?;
    Ok(replace(file, text(workshop_to_keep).as_bytes())?)
}

fn text(workshop: &Workshop) -> String {
    let lines = PrettyConfig::new().depth_limit(2).new_line("\n");
    let body = ron::ser::to_string_pretty(workshop, lines);
    let body = body.expect("structs, lists, numbers and text");
    format!("{FIRST_LINE}\n{body}\n")
}

/// A workshop by the harbour with a shelf, findings, bobbins and prices, all of it
/// invented and marked so: something to look at before one's own is written down.
pub fn example_workshop() -> &'static Workshop {
    static EXAMPLE: LazyLock<Workshop> = LazyLock::new(|| {
        read(include_str!("../../resources/workshop-example.ron")).expect("a test reads it")
    });
    &EXAMPLE
}

impl Workshop {
    /// Whether every figure in it is finite, sensible and fits together.
    ///
    /// # Errors
    ///
    /// The first fault found, with the place it sits at.
    pub fn check(&self) -> Checked {
        let at = At::root();
        check_each(&self.stock, &at.field("stock"), "shelf entry", check_stock)?;
        check_each(
            &self.findings,
            &at.field("findings"),
            "finding",
            check_finding,
        )?;
        check_each(
            &self.bobbins,
            &at.field("bobbins"),
            "kind of bobbin",
            check_bobbin,
        )?;
        let table = at.field("table");
        match self.table {
            Table::Disc { radius } => table.number(radius, 10.0..=500.0, " mm")?,
            Table::Stand { reach } => table.number(reach, 10.0..=1000.0, " mm")?,
        }
        check_cutting(&self.cutting, &at.field("cutting"))?;
        check_pace(&self.pace, &at.field("pace"))?;
        check_prices(&self.prices, &at.field("prices"))
    }
}

fn check_each<T>(
    all: &[T],
    at: &At<'_>,
    called: &str,
    check: fn(&T, &At<'_>) -> Checked,
) -> Checked {
    at.count(all.len(), 0..=MOST_ENTRIES, "lines")?;
    for (i, one) in all.iter().enumerate() {
        check(one, &at.numbered(called, i))?;
    }
    Ok(())
}

fn check_name(name: &str, at: &At<'_>) -> Checked {
    at.ensure(!name.trim().is_empty(), || "it needs a name".into())?;
    at.words(name)
}

fn check_price(price: Option<Money>, at: &At<'_>) -> Checked {
    let Some(price) = price else {
        return Ok(());
    };
    let sound = Money::default() <= price && price.amount() <= 1_000_000_000.into();
    at.ensure(sound, || {
        format!(
            "a price lies between 0 and 1 000 000 000, not at {}",
            price.amount()
        )
    })
}

fn check_counted(there: u32, at: &At<'_>) -> Checked {
    at.ensure(there <= MOST_OF_A_THING, || {
        format!("there can be at most {MOST_OF_A_THING} of a thing, not {there}")
    })
}

fn check_stock(stock: &Stock, at: &At<'_>) -> Checked {
    check_name(&stock.fibre, &at.field("fibre"))?;
    at.field("metres")
        .number(stock.metres, 0.01..=100_000.0, " m")?;
    at.field("on_shelf")
        .number(stock.on_shelf, 0.0..=1.0e6, " m")?;
    at.field("lot").words(&stock.lot)?;
    check_price(stock.price, &at.field("price"))
}

fn check_finding(finding: &Finding, at: &At<'_>) -> Checked {
    check_name(&finding.name, &at.field("name"))?;
    for (field, measure) in [
        ("inner", finding.inner),
        ("thickness", finding.thickness),
        ("depth", finding.depth),
        ("outer", finding.outer),
    ] {
        if let Some(mm) = measure {
            at.field(field).number(mm, 0.1..=200.0, " mm")?;
        }
    }
    at.field("adds").number(finding.adds, 0.0..=500.0, " mm")?;
    at.field("metal").words(&finding.metal)?;
    check_counted(finding.there, &at.field("there"))?;
    check_price(finding.price, &at.field("price"))
}

fn check_bobbin(bobbin: &Bobbin, at: &At<'_>) -> Checked {
    check_name(&bobbin.name, &at.field("name"))?;
    at.field("grams").number(bobbin.grams, 0.1..=2000.0, " g")?;
    at.field("holds").number(bobbin.holds, 0.01..=1000.0, " m")
}

fn check_cutting(cutting: &Cutting, at: &At<'_>) -> Checked {
    at.field("start")
        .number(cutting.start, 0.0..=2000.0, " mm")?;
    at.field("hand").number(cutting.hand, 0.0..=1000.0, " mm")?;
    at.field("sure").number(cutting.sure, 0.5..=0.999, "")?;
    at.field("mark").number(cutting.mark, 0.5..=1000.0, " mm")?;
    at.field("uneven")
        .number(cutting.uneven, 0.0..=500.0, " mm")?;
    at.field("waste").number(cutting.waste, 0.0..=1.0, "")
}

fn check_pace(pace: &Pace, at: &At<'_>) -> Checked {
    at.field("moves_a_minute")
        .number(pace.moves_a_minute, 0.1..=600.0, "")?;
    at.field("at_work").number(pace.at_work, 0.05..=1.0, "")?;
    at.field("set_up")
        .number(pace.set_up, 0.0..=600.0, " min")?;
    at.field("finish").number(pace.finish, 0.0..=6000.0, " min")
}

fn check_prices(prices: &Prices, at: &At<'_>) -> Checked {
    at.field("currency").words(&prices.currency)?;
    at.field("places")
        .number(prices.places.into(), 0.0..=4.0, "")?;
    check_price(prices.hour, &at.field("hour"))?;
    check_price(prices.small_things, &at.field("small_things"))?;
    at.field("margin")
        .number(prices.margin, 0.0..=10_000.0, " %")?;
    at.field("tax").number(prices.tax, 0.0..=200.0, " %")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::{examples, open};

    /// What the check says after a change of the example.
    fn said(change: impl FnOnce(&mut Workshop)) -> String {
        let mut workshop = example_workshop().clone();
        change(&mut workshop);
        workshop.check().unwrap_err().to_string()
    }

    #[test]
    fn the_example_is_sound_marked_and_has_every_fibre_of_the_finished_designs() {
        let example = example_workshop();
        assert!(example.example);
        for design in examples() {
            for fibre in &design.fibres {
                let has = example.stock.iter().any(|stock| stock.fibre == fibre.name);
                assert!(has, "{} of {}", fibre.name, design.name);
            }
        }
    }

    #[test]
    fn a_workshop_is_kept_and_read_again_as_it_was() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join(WORKSHOP);
        assert_eq!(workshop(&file), Ok(None));
        for kept in [Workshop::default(), example_workshop().clone()] {
            keep_workshop(&file, &kept).unwrap();
            assert_eq!(workshop(&file), Ok(Some(kept)));
        }
        assert!(open(&file).is_err());
    }

    #[test]
    fn a_fault_is_said_with_its_place() {
        let cases = [
            said(|w| w.stock[1].metres = 0.0),
            said(|w| w.stock[0].fibre = " ".into()),
            said(|w| w.findings[2].inner = Some(f64::NAN)),
            said(|w| w.bobbins[0].holds = -1.0),
            said(|w| w.table = Table::Disc { radius: 5.0 }),
            said(|w| w.cutting.sure = 1.0),
            said(|w| w.pace.moves_a_minute = 0.0),
            said(|w| w.prices.places = 9),
            said(|w| w.prices.hour = Some(Money::new((-3).into()))),
        ];
        let expected = [
            "shelf entry 2, metres: 0 is not between 0.01 and 100000 m",
            "shelf entry 1, fibre: it needs a name",
            "finding 3, inner: NaN is not a number",
            "kind of bobbin 1, holds: -1 is not between 0.01 and 1000 m",
            "table: 5 is not between 10 and 500 mm",
            "cutting, sure: 1 is not between 0.5 and 0.999",
            "pace, moves a minute: 0 is not between 0.1 and 600",
            "prices, places: 9 is not between 0 and 4",
            "prices, hour: a price lies between 0 and 1 000 000 000, not at -3",
        ];
        assert_eq!(cases, expected);
    }

    #[test]
    fn a_file_that_cannot_be_read_says_where_and_is_left_as_it_is() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join(WORKSHOP);
        let good = text(example_workshop());
        for (broken, word) in [
            ("(stock: [])".to_owned(), "first line"),
            (good.replace("workshop 1", "workshop 2"), "first line"),
            (good[..good.len() / 2].to_owned(), "cut off"),
            (
                good.replace("sure: 0.975", "sure: 7.0"),
                "cutting, sure: 7 is not",
            ),
            (good.replace("sure:", "surely:"), "surely"),
            (
                good.replace("on_shelf: 0.0", "on_shelf: inf"),
                "\"inf\" is not a number",
            ),
        ] {
            replace(&file, broken.as_bytes()).unwrap();
            let error = keep_workshop(&file, &Workshop::default()).unwrap_err();
            assert!(error.to_string().contains("line "), "{error}");
            assert!(error.to_string().contains(word), "{error}");
            assert_eq!(load(&file, LARGEST).unwrap(), broken.as_bytes());
        }
    }

    #[test]
    fn the_fault_of_a_figure_is_found_on_its_line() {
        let good = text(example_workshop());
        let line = good.lines().position(|line| line.contains("sure: 0.975"));
        let broken = good.replace("sure: 0.975", "sure: 7.0");
        let error = read(&broken).unwrap_err().to_string();
        let wanted = format!("line {},", line.unwrap() + 1);
        assert!(error.starts_with(&wanted), "{error} is not on {wanted}");
    }
}
