//! What is read and what is refused.

use super::*;

fn read(line: &str) -> Result<Command, UsageError> {
    read_arguments(line.split_whitespace().map(OsString::from))
}

#[test]
fn no_command_opens_the_window_with_or_without_a_file() {
    assert_eq!(read(""), Ok(Command::Window(None)));
    assert_eq!(
        read("cord.plait"),
        Ok(Command::Window(Some(PathBuf::from("cord.plait"))))
    );
}

#[test]
fn a_picture_takes_its_size_and_place() {
    let expected = Command::Picture {
        source: Source::Design(PathBuf::from("a.plait")),
        out: PathBuf::from("b.png"),
        picture: Picture {
            of: Subject::Cord,
            size: Some(Size {
                width: 320,
                height: 100,
            }),
            per_mm: Some(12.5),
            ground: Under::Nothing,
        },
    };
    let line = "picture a.plait --out b.png --size 320x100 --per-mm 12,5 --clear";
    assert_eq!(read(line), Ok(expected));
    for wrong in ["--per-mm 0", "--of hat", "--size 3"] {
        assert!(read(&format!("picture a --out b.png {wrong}")).is_err());
    }
    assert!(read("figures a --clear").is_err());
}

#[test]
fn tubes_are_tightened_to_a_thousandth_unless_told_otherwise() {
    let expected = |tolerance, json| Command::Tighten {
        file: PathBuf::from("a.json"),
        tolerance: Tolerance(tolerance),
        json,
    };
    assert_eq!(read("tighten a.json"), Ok(expected(1e-3, false)));
    let told = read("tighten a.json --tolerance 1e-4 --json");
    assert_eq!(told, Ok(expected(1e-4, true)));
    for wrong in ["0", "nan", "1", "-1e-3", "tight"] {
        let error = read(&format!("tighten a --tolerance={wrong}")).unwrap_err();
        assert_eq!(error, UsageError::Tolerance(wrong.to_owned()));
    }
    let misplaced = read("check a --tolerance 0.01").unwrap_err();
    assert!(misplaced.to_string().contains("--tolerance"), "{misplaced}");
}

#[test]
fn looks_are_told_of_the_colours_there_are_unless_told_otherwise() {
    let expected = |colours, alike| Command::Looks {
        source: Source::Design(PathBuf::from("a.plait")),
        colours,
        alike,
        json: false,
    };
    let told = read("looks a.plait");
    assert_eq!(told, Ok(expected(None, Alike::UpsideDown)));
    let told = read("looks a.plait --colours 3 --alike turned");
    assert_eq!(told, Ok(expected(Some(3), Alike::Turned)));
    for wrong in ["--colours 0", "--colours 27", "--alike round"] {
        assert!(read(&format!("looks a.plait {wrong}")).is_err(), "{wrong}");
    }
}

#[test]
fn a_swatch_takes_its_two_measures_as_one_types_them() {
    let expected = Command::Swatch {
        source: Source::Design(PathBuf::from("a.plait")),
        thickness: 7.8,
        shorter: 4.5,
    };
    let told = read("swatch a.plait --thickness 7,8mm --shorter 4.5%");
    assert_eq!(told, Ok(expected));
    let lacks = read("swatch a.plait --thickness 7.8");
    assert_eq!(lacks, Err(UsageError::NoMeasure));
}

#[test]
fn a_solid_is_so_long_or_so_many_repeats_and_never_both() {
    let expected = |stretch| Command::Solid {
        source: Source::Design(PathBuf::from("a.plait")),
        out: PathBuf::from("b.glb"),
        stretch,
    };
    let line = "solid a.plait --out b.glb";
    assert_eq!(read(line), Ok(expected(Stretch::Mm(50.0))));
    let told = read(&format!("{line} --length 2in"));
    assert_eq!(told, Ok(expected(Stretch::Mm(50.8))));
    let told = read(&format!("{line} --repeats 3"));
    assert_eq!(told, Ok(expected(Stretch::Repeats(3))));
    for wrong in ["--repeats 0", "--length long", "--length 5 --repeats 2"] {
        assert!(read(&format!("{line} {wrong}")).is_err(), "{wrong}");
    }
    assert_eq!(read("solid a.plait"), Err(UsageError::NoSolid));
    assert_eq!(read("surface a.plait"), Err(UsageError::NoSurface));
    assert!(read("figures a --length 5").is_err());
}

#[test]
fn a_wrong_argument_is_named() {
    assert_eq!(read("figures"), Err(UsageError::NoFile("figures")));
    assert_eq!(read("picture a.plait"), Err(UsageError::NoOut));
    let wrong = read("picture a --out b --size 0x4").unwrap_err();
    assert!(wrong.to_string().contains("0x4"), "{wrong}");
    let misplaced = read("picture a --json").unwrap_err();
    assert!(misplaced.to_string().contains("--json"), "{misplaced}");
}

#[test]
fn a_braid_is_told_by_a_design_a_text_or_a_list() {
    let (path, json) = (PathBuf::from("a"), true);
    let source = Source::Design(path.clone());
    assert_eq!(read("check a --json"), Ok(Command::Check { source, json }));
    let source = Source::Moves(path.clone());
    assert_eq!(
        read("check --json --moves a"),
        Ok(Command::Check { source, json })
    );
    for line in ["check --list a", "check --list a --json"] {
        assert_eq!(read(line), Ok(Command::CheckAll(path.clone())));
    }
    assert_eq!(read("structures"), Ok(Command::Structures { json: false }));
    assert_eq!(read("check"), Err(UsageError::NoFile("check")));
    assert_eq!(
        read("figures a --moves b"),
        Err(UsageError::TwoFiles("figures"))
    );
    assert_eq!(read("check a --list b"), Err(UsageError::TwoFiles("check")));
    for wrong in ["structures a", "figures --list a", "tighten a --moves b"] {
        assert!(matches!(read(wrong), Err(UsageError::Other(_))), "{wrong}");
    }
}

#[test]
fn a_sheet_takes_paper_sizes_copies_and_units() {
    let expected = |sheet| Command::Sheet {
        source: Source::Design(PathBuf::from("a.plait")),
        out: PathBuf::from("b.pdf"),
        sheet,
    };
    let line = "sheet a.plait --out b.pdf";
    assert_eq!(read(line), Ok(expected(Sheet::default())));
    let told = Sheet {
        paper: Paper::Letter,
        units: UnitSystem::Inches,
        sizes: vec![160.0, 254.0],
        copies: 3,
        date: Some("today".to_owned()),
    };
    let line = format!("{line} --paper letter --sizes 16cm,10in --copies 3 --inches --date today");
    assert_eq!(read(&line), Ok(expected(told)));
    for wrong in [
        "--paper a3",
        "--sizes long",
        "--sizes 0",
        "--copies 0",
        "--copies 101",
    ] {
        let line = format!("sheet a --out b.pdf {wrong}");
        assert!(read(&line).is_err(), "{wrong}");
    }
    assert_eq!(read("sheet a.plait"), Err(UsageError::NoSheet));
    assert!(read("figures a --paper a4").is_err());
}
