//! A careless person braids a cord in the running window: presses too often, takes moves
//! back, slips, finds the way back, and the program dies under her hands again and again.
//! At every moment the place must be that of the disc in her hands.
//!
//! `PLAIT_CORD=300 cargo test --test braiding -- --nocapture` braids 300 mm, which takes
//! some five minutes, and says what she did; without it the cord is shorter.
//!
//! Needs `Xvfb` and `xdotool`, which the README's first command installs.
#![expect(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a test may panic, and says what was done"
)]

#[path = "braiding/hands.rs"]
mod hands;
#[path = "braiding/person.rs"]
mod person;
#[path = "real_window/screen.rs"]
mod screen;

use person::Person;

/// Cord to be made, mm on the disc.
fn length() -> f64 {
    let asked = std::env::var("PLAIT_CORD").ok();
    asked.map_or(80.0, |asked| asked.parse().expect("a length in mm"))
}

#[test]
fn a_cord_is_braided_carelessly_and_the_place_is_never_lost() {
    let mut person = Person::sits_down(7);
    person.dresses_the_disc();
    let length = length();
    while person.made() < length {
        match person.mood() {
            0..=79 => person.makes_a_move(),
            80..=84 => person.presses_twice(),
            85..=89 => person.takes_a_move_back(),
            90..=93 => person.is_killed(),
            94..=96 => person.looks_away_and_slips(),
            97 => person.opens_a_second_window(),
            _ => person.waits(),
        }
    }
    person.tells();
}
