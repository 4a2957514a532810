//! The work sheet beside public readers of PDF and SVG.
//!
//! What a reader is needed for is told on the terminal where it is not installed;
//! `.ci/run` installs them all.
#![expect(clippy::unwrap_used, reason = "a test may panic")]
#![expect(
    clippy::print_stdout,
    reason = "what was not read is told on the terminal"
)]

use std::path::{Path, PathBuf};
use std::process::Command;

use plaitwright::cord::{self, Cord, Form, Quality};
use plaitwright::document::{Design, example_workshop, examples, spare_fonts};
use plaitwright::drawing::{
    Page, Paper, SheetInput, SpareFont, letters_lacking, page_svg, pages_pdf, work_sheet,
};
use plaitwright::mechanics::Progress;
use plaitwright::plan::{Measure, Plan};
use plaitwright::quantity::UnitSystem;
use plaitwright::structure::{Step, shelf};

/// Left free all round, points.
const MARGIN: f64 = 15.0 / 25.4 * 72.0;

/// A design with all that its sheet needs.
struct Job {
    design: Design,
    cord: Cord,
    rested: Form,
    plan: Plan,
}

impl Job {
    fn of(design: Design) -> Self {
        let recipe = design.recipe().unwrap();
        // The coarse cord: figures and form are of the same kind, and there in a moment.
        let cord = cord::solve(&recipe, None, Quality::Coarse, &Progress::new()).unwrap();
        let rested = cord.form.clone();
        let plan = design.plan(&cord.figures, example_workshop(), UnitSystem::Millimetres);
        Self {
            design,
            cord,
            rested,
            plan,
        }
    }

    fn input<'a>(&'a self, paper: Paper, spare: &'a [SpareFont]) -> SheetInput<'a> {
        SheetInput {
            design: &self.design,
            figures: &self.cord.figures,
            rested: &self.rested,
            plan: &self.plan,
            units: UnitSystem::Millimetres,
            paper,
            date: "26 November 2026",
            copy: "",
            spare,
        }
    }

    fn pages(&self, paper: Paper) -> Vec<Page> {
        work_sheet(&self.input(paper, &[]))
    }
}

fn pdf(pages: &[Page], folder: &Path) -> PathBuf {
    let file = folder.join("sheet.pdf");
    std::fs::write(&file, pages_pdf("sheet", pages).unwrap()).unwrap();
    file
}

/// What a reader says, if it is there.
fn read(program: &str, arguments: &[&str]) -> Option<String> {
    match Command::new(program).args(arguments).output() {
        Err(_) => {
            println!("Not read by {program}, which is not installed.");
            None
        }
        Ok(output) => {
            let errors = String::from_utf8_lossy(&output.stderr);
            assert!(output.status.success(), "{program} {arguments:?}: {errors}");
            Some(String::from_utf8_lossy(&output.stdout).into_owned())
        }
    }
}

fn text_of(file: &Path) -> Option<String> {
    let text = read("pdftotext", &["-layout", file.to_str().unwrap(), "-"])?;
    Some(text.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// The boxes of all words, points from the upper left.
fn words(file: &Path) -> Option<Vec<[f64; 4]>> {
    let text = read("pdftotext", &["-bbox", file.to_str().unwrap(), "-"])?;
    let value = |line: &str, name: &str| -> f64 {
        let from = line.find(name).unwrap() + name.len() + 2;
        line[from..].split('"').next().unwrap().parse().unwrap()
    };
    let lines = text.lines().filter(|line| line.contains("<word"));
    let boxes = lines.map(|line| ["xMin", "yMin", "xMax", "yMax"].map(|name| value(line, name)));
    Some(boxes.collect())
}

#[test]
fn both_papers_are_their_size_and_sound_with_all_fonts_in_them() {
    let job = Job::of(examples()[0].clone());
    let folder = tempfile::tempdir().unwrap();
    for (paper, size) in [
        (Paper::A4, "595.276 x 841.89 pts (A4)"),
        (Paper::Letter, "612 x 792 pts (letter)"),
    ] {
        let file = pdf(&job.pages(paper), folder.path());
        let name = file.to_str().unwrap();
        read("qpdf", &["--check", name]);
        if let Some(told) = read("pdfinfo", &[name]) {
            assert!(told.contains(size), "{told}");
            assert!(
                told.lines()
                    .any(|l| l.starts_with("Tagged:") && l.ends_with("yes"))
            );
            assert!(!told.contains("CreationDate"), "{told}");
        }
        if let Some(told) = read("pdffonts", &[name]) {
            let fonts: Vec<&str> = told.lines().skip(2).collect();
            assert!(fonts.len() >= 3, "{told}");
            for font in fonts {
                // emb, sub, uni and the two numbers of its object end the line.
                let marks: Vec<&str> = font.split_whitespace().rev().collect();
                assert_eq!([marks[4], marks[3]], ["yes", "yes"], "{font}");
            }
        }
    }
}

#[test]
fn the_bar_to_check_the_printer_by_is_a_hundred_millimetres() {
    let job = Job::of(examples()[0].clone());
    let folder = tempfile::tempdir().unwrap();
    let file = pdf(&job.pages(Paper::A4), folder.path());
    let plain = folder.path().join("plain.pdf");
    let names = [file.to_str().unwrap(), plain.to_str().unwrap()];
    if read(
        "qpdf",
        &["--qdf", "--stream-data=uncompress", names[0], names[1]],
    )
    .is_none()
    {
        return;
    }
    let bytes = std::fs::read(&plain).unwrap();
    let text = String::from_utf8_lossy(&bytes);
    let widths = boxes(&text);
    for wanted in [100.0 / 25.4 * 72.0, 4.0 * 72.0] {
        let found = widths
            .iter()
            .filter(|w| (**w - wanted).abs() < 0.01)
            .count();
        assert!(found >= 1, "no box {wanted} pt wide");
    }
}

/// The widths of all four-cornered paths, points.
fn boxes(content: &str) -> Vec<f64> {
    let mut widths = Vec::new();
    let (mut numbers, mut xs): (Vec<f64>, Vec<f64>) = Default::default();
    for word in content.split_whitespace() {
        if let Ok(number) = word.parse() {
            numbers.push(number);
            continue;
        }
        let x = numbers.len().checked_sub(2).map(|at| numbers[at]);
        match (word, x) {
            ("m", Some(x)) => xs = vec![x],
            ("l", Some(x)) => xs.push(x),
            ("re", Some(wide)) => widths.push(wide),
            ("h", _) if xs.len() == 4 => {
                let most = xs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
                widths.push(most - xs.iter().copied().fold(f64::INFINITY, f64::min));
            }
            _ => {}
        }
        numbers.clear();
    }
    widths
}

#[test]
fn every_number_of_the_cut_list_is_on_the_sheet() {
    let folder = tempfile::tempdir().unwrap();
    for design in examples() {
        let job = Job::of(design.clone());
        let Some(text) = text_of(&pdf(&job.pages(Paper::A4), folder.path())) else {
            return;
        };
        for cut in &job.plan.cut.cuts {
            let long = match cut.length {
                mm if mm >= 1000.0 => format!("{:.2} m", mm / 1000.0),
                mm => format!("{mm:.0} mm"),
            };
            let told = format!("{} × {long}", cut.count);
            assert!(
                text.contains(&told),
                "{}: {told} is not in {text}",
                design.name
            );
        }
        let (_, sum) = job.plan.on_disc.shown(UnitSystem::Millimetres);
        assert!(text.contains(&sum.figure), "{}: {sum}", design.name);
        let weight = format!("Counterweight {:.0} g", job.plan.bobbins.counterweight);
        assert!(text.contains(&weight), "{}: {weight}", design.name);
    }
}

#[test]
fn every_structure_of_the_shelf_has_a_sheet_with_all_its_moves_inside_the_margins() {
    let folder = tempfile::tempdir().unwrap();
    for (structure, paper) in shelf().iter().zip(Paper::ALL.into_iter().cycle()) {
        let job = Job::of(Design::fresh(structure));
        let file = pdf(&job.pages(paper), folder.path());
        let (Some(text), Some(words)) = (text_of(&file), words(&file)) else {
            return;
        };
        inside(&words, paper, &structure.name);
        // Columns beside one another shift the spaces between words.
        let text = text.replace(' ', "");
        let moves = &structure.moves;
        let told = |step: &Step| step.as_exchange(moves.slots).is_none();
        for step in moves.steps.iter().filter(|step| told(step)) {
            let one = step.moves[0];
            let [from, to] = [one.from, one.to].map(|p| moves.label(p, Default::default()));
            let move_told = format!("{from}→{to}");
            assert!(text.contains(&move_told), "{}: {move_told}", structure.name);
        }
    }
}

fn inside(words: &[[f64; 4]], paper: Paper, name: &str) {
    let [wide, high] = paper.size().map(|mm| mm / 25.4 * 72.0);
    // A box is as high as its font; the letters in it are not.
    let slack = 6.0;
    for word in words {
        let [left, top, right, low] = *word;
        assert!(left >= MARGIN - 0.5, "{name}: {word:?}");
        assert!(right <= wide - MARGIN + 0.5, "{name}: {word:?}");
        assert!(
            top >= MARGIN - slack && low <= high - MARGIN + slack,
            "{name}: {word:?}"
        );
    }
}

/// Names of a hundred letters and more, in scripts that our fonts have and have not.
const NAMES: [&str; 5] = [
    "A cord with a name that goes on and on until nobody who reads it remembers how it began, or wants to",
    "Очень длинное название шнура, которое не помещается на одной строке и должно переноситься на другую",
    "Ένα πολύ μακρύ όνομα για ένα κορδόνι που δεν χωράει σε μία γραμμή και πρέπει να συνεχιστεί παρακάτω",
    "これはとても長い組紐の名前で一行には収まらないので次の行に続けなければなりませんがそれでも切れてはいけません",
    "اسم طويل جدا لحبل مضفور لا يتسع له سطر واحد ويجب أن يستمر في السطر التالي دون أن يقطع منه شيء أبدا",
];

#[test]
fn absurd_names_are_neither_cut_nor_laid_over_the_margins() {
    let folder = tempfile::tempdir().unwrap();
    for name in NAMES {
        let mut design = examples()[0].clone();
        design.name = name.to_owned();
        let old = std::mem::replace(&mut design.fibres[0].name, name.to_owned());
        let parts = design.strands.iter_mut().flat_map(|s| &mut s.parts);
        parts
            .filter(|part| part.fibre == old)
            .for_each(|part| name.clone_into(&mut part.fibre));
        design.check().unwrap();
        let job = Job::of(design);
        let bare = job.input(Paper::Letter, &[]);
        let lacking = letters_lacking(&bare);
        let found = spare_fonts(&lacking);
        let spare = found
            .into_iter()
            .map(|(bytes, index)| SpareFont::new(bytes, index));
        let spare: Vec<SpareFont> = spare.collect();
        for spare in [&spare[..], &[]] {
            let input = job.input(Paper::Letter, spare);
            let file = pdf(&work_sheet(&input), folder.path());
            let (Some(text), Some(words)) = (text_of(&file), words(&file)) else {
                return;
            };
            inside(&words, Paper::Letter, name);
            let lacks = !letters_lacking(&input).is_empty();
            assert_eq!(text.contains("No font on this computer"), lacks, "{text}");
            if name.is_ascii() {
                assert!(text.contains("how it began, or wants to"), "{text}");
            }
        }
    }
}

#[test]
fn the_same_sheet_is_the_same_bytes() {
    let job = Job::of(examples()[1].clone());
    let bytes = || pages_pdf("sheet", &job.pages(Paper::A4)).unwrap();
    assert_eq!(bytes(), bytes());
}

#[test]
fn a_page_is_sound_svg_as_large_as_its_paper_with_words_to_find() {
    let job = Job::of(examples()[0].clone());
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("page.svg");
    let text = page_svg("sheet", &job.pages(Paper::A4)[0]);
    assert!(text.contains("width=\"210mm\" height=\"297mm\""));
    assert!(text.contains(">Harbour glass</text>"));
    std::fs::write(&file, text).unwrap();
    let name = file.to_str().unwrap();
    read("xmllint", &["--noout", "--nonet", "--huge", name]);
    let png = folder.path().join("page.png");
    let options = ["--width", "420", name, "--output", png.to_str().unwrap()];
    if read("rsvg-convert", &options).is_none() {
        return;
    }
    let picture = image::open(png).unwrap().to_luma8();
    let dark = picture.pixels().filter(|pixel| pixel.0[0] < 128).count();
    let share = dark as f64 / picture.pixels().count() as f64;
    assert!((0.01..0.2).contains(&share), "{share}");
}

#[test]
fn a_plain_cord_of_eight_strands_needs_one_page() {
    let spiral = shelf()
        .iter()
        .find(|s| s.name == "Round spiral" && s.strands() == 8);
    let mut design = Design::fresh(spiral.unwrap());
    design.name = "Plain".to_owned();
    let job = Job::of(design);
    assert_eq!(job.pages(Paper::A4).len(), 1);
}

#[test]
fn strands_too_short_for_a_bobbin_hang_without_one() {
    let folder = tempfile::tempdir().unwrap();
    let spiral = shelf()
        .iter()
        .find(|s| s.name == "Round spiral" && s.strands() == 8);
    let mut design = Design::fresh(spiral.unwrap());
    design.piece.measure = Measure::Length(100.0);
    let job = Job::of(design);
    assert!(job.plan.bobbins.wound.iter().all(|wound| wound.hangs));
    let file = pdf(&job.pages(Paper::A4), folder.path());
    let Some(text) = read("pdftotext", &["-raw", file.to_str().unwrap(), "-"]) else {
        return;
    };
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("hang without a bobbin"), "{text}");
    assert!(!text.contains("No bobbin takes"), "{text}");
}
