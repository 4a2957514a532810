//! The program: with a command it answers on the terminal, otherwise it opens
//! the window.

use std::process::ExitCode;

use plaitwright::app;
use plaitwright::command_line::{self, Command};

/// Names what is written to the terminal for developers, such as `warn`; nothing without it.
const LOG: &str = "PLAITWRIGHT_LOG";

fn main() -> ExitCode {
    env_logger::Builder::new()
        .filter_level(log::LevelFilter::Off)
        .parse_env(LOG)
        .init();
    match command_line::read_arguments(std::env::args_os().skip(1)) {
        Err(error) => command_line::say_usage(&error),
        Ok(Command::Window(file)) => match app::run(file) {
            Ok(()) => ExitCode::SUCCESS,
            Err(error) => command_line::say_no_window(&error.to_string()),
        },
        Ok(command) => command_line::run(&command, &app::settings::home()),
    }
}
