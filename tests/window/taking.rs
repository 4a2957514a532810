//! Taking a cord along: slip, files and clipboard.

use eframe::egui::{Key, Modifiers, OutputCommand};

use egui_kittest::kittest::Queryable;

use super::{PATIENCE, Window, home};

#[test]
fn a_solid_is_written_by_keyboard_and_path_and_its_file_is_named() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    window.press(Modifiers::COMMAND, Key::E);
    window.click("STL");
    let out = home.path().join("harbour");
    window.type_into("Path to save at", out.to_str().unwrap());
    window.click("Save here");
    window.await_words("harbour.stl is written.");
    let bytes = std::fs::read(out.with_extension("stl")).unwrap();
    assert!(bytes.starts_with(b"plaitwright") && bytes.len() > 100_000);
    assert!(!window.shows("Path to save at"), "the slip is shut");
}

#[test]
fn what_cannot_be_written_is_said_in_a_sentence() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    window.click("Take it along");
    window.click("SVG of the disc");
    let out = home.path().join("no/disc.svg");
    window.type_into("Path to save at", out.to_str().unwrap());
    window.click("Save here");
    window.await_words("there is no such file or folder");
    window.click("Put this notice away");
    assert!(!window.shows("no such file"), "it is put away");
}

#[test]
fn the_picture_goes_to_the_clipboard_in_the_size_that_was_typed() {
    let home = home();
    let mut window = Window::open(home.path(), None);
    window.await_cord();
    window.click("Take it along");
    window.click("width of the picture, px");
    window.press(Modifiers::COMMAND, Key::A);
    let field = window.harness.get_by_label("width of the picture, px");
    field.type_text("300");
    window.step(2);
    window.press(Modifiers::NONE, Key::Enter);
    window.click("what it lies on: clear");
    window.click("Copy the picture");
    let until = std::time::Instant::now() + PATIENCE;
    loop {
        let commands = &window.harness.output().platform_output.commands;
        let copied = commands.iter().find_map(|command| match command {
            OutputCommand::CopyImage(image) => Some(image.clone()),
            _ => None,
        });
        if let Some(image) = copied {
            assert_eq!(image.size, [300, 450]);
            assert_eq!(image.pixels[0].a(), 0, "the ground is clear");
            assert!(image.pixels.iter().any(|pixel| pixel.a() == 255));
            break;
        }
        assert!(std::time::Instant::now() < until, "nothing was copied");
        std::thread::sleep(std::time::Duration::from_millis(15));
        window.step(1);
    }
    window.await_words("The picture is on the clipboard.");
}
