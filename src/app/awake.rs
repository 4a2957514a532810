//! Keeps the screen awake while there is braiding, and lets it sleep otherwise.
//!
//! On Linux the screen saver of the desktop is asked over D-Bus
//! (`org.freedesktop.ScreenSaver.Inhibit`, Idle Inhibition Service Draft of
//! freedesktop.org): it holds until it is taken back or the program is gone, however it
//! went. On macOS `caffeinate -d` runs meanwhile and watches this program itself. There
//! is nothing of the kind elsewhere yet, and a desktop may lack it: that is told once,
//! where the stage is set up. Asking may take its time, so a thread of its own does it.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Sender, channel};

/// What is said where the screen cannot be kept awake.
pub const NO_WAKING: &str = "This desktop does not let the screen be kept awake from here: \
    set its screen saver to a longer time while you braid.";

/// Keeps the screen awake, where the system lets it.
#[derive(Debug)]
pub struct Awake {
    means: Means,
    /// Dropped to let go.
    hold: Option<Sender<()>>,
    lacks: Arc<AtomicBool>,
}

impl Default for Awake {
    /// By the means of this system; nothing is held yet.
    fn default() -> Self {
        Self::by(Means::of_this_system())
    }
}

impl Awake {
    fn by(means: Means) -> Self {
        Self {
            means,
            hold: None,
            lacks: Arc::default(),
        }
    }

    /// Has the screen stay awake, or lets it go. Returns at once; may be told the same
    /// again and again.
    pub fn keep(&mut self, awake: bool) {
        if !awake {
            self.hold = None;
        } else if self.hold.is_none() {
            self.hold = Some(self.held());
        }
    }

    /// One sentence if it was tried and cannot be.
    pub fn lack(&self) -> Option<&'static str> {
        self.lacks.load(Ordering::Relaxed).then_some(NO_WAKING)
    }

    fn held(&self) -> Sender<()> {
        let (hold, let_go) = channel();
        let (means, lacks) = (self.means.clone(), Arc::clone(&self.lacks));
        let work = move || match means.take_hold() {
            Ok(held) => {
                lacks.store(false, Ordering::Relaxed);
                // Nothing is ever sent: it ends when the other side is dropped.
                let _ = let_go.recv();
                held.let_go();
            }
            Err(reason) => {
                log::info!("the screen is not kept awake: {reason}");
                lacks.store(true, Ordering::Relaxed);
            }
        };
        let thread = std::thread::Builder::new().name("awake".to_owned());
        if let Err(error) = thread.spawn(work) {
            log::error!("no thread to keep the screen awake: {error}");
        }
        hold
    }
}

#[cfg(target_os = "linux")]
use screen_saver::Means;

#[cfg(target_os = "linux")]
mod screen_saver {
    use pollster::block_on;
    use zbus::{Connection, connection};

    /// Whom to ask, by their names on the bus.
    const SERVICE: &str = "org.freedesktop.ScreenSaver";
    const OBJECT: &str = "/org/freedesktop/ScreenSaver";

    /// The screen saver on the bus of the session, or of one at an address.
    #[derive(Debug, Clone)]
    pub(super) struct Means {
        pub address: Option<String>,
    }

    pub(super) struct Held {
        bus: Connection,
        cookie: u32,
    }

    impl Means {
        pub(super) fn of_this_system() -> Self {
            Self { address: None }
        }

        pub(super) fn take_hold(&self) -> zbus::Result<Held> {
            block_on(self.asked())
        }

        async fn asked(&self) -> zbus::Result<Held> {
            let bus = match &self.address {
                Some(address) => {
                    let bus = connection::Builder::address(address.as_str())?;
                    bus.build().await?
                }
                None => Connection::session().await?,
            };
            let why = ("Plaitwright", "A cord is being braided");
            let answer = bus.call_method(Some(SERVICE), OBJECT, Some(SERVICE), "Inhibit", &why);
            let cookie = answer.await?.body().deserialize()?;
            Ok(Held { bus, cookie })
        }
    }

    impl Held {
        pub(super) fn let_go(self) {
            let Self { bus, cookie } = self;
            let told = bus.call_method(Some(SERVICE), OBJECT, Some(SERVICE), "UnInhibit", &cookie);
            if let Err(error) = block_on(told) {
                log::info!("the screen saver does not answer any more: {error}");
            }
        }
    }
}

#[cfg(not(target_os = "linux"))]
use program::Means;

#[cfg(not(target_os = "linux"))]
mod program {
    use std::io;
    use std::process::Child;

    use crate::app::player::{on_path, quiet};

    /// A program that keeps the screen awake while it runs, if the system has one.
    #[derive(Debug, Clone)]
    pub(super) struct Means;

    pub(super) struct Held(Child);

    impl Means {
        pub(super) fn of_this_system() -> Self {
            Self
        }

        pub(super) fn take_hold(&self) -> io::Result<Held> {
            let path = std::env::var_os("PATH").unwrap_or_default();
            let program = on_path(&path, "caffeinate").ok_or(io::ErrorKind::NotFound)?;
            let own = std::process::id().to_string();
            let child = quiet(&program).args(["-d", "-w", &own]).spawn()?;
            Ok(Held(child))
        }
    }

    impl Held {
        pub(super) fn let_go(mut self) {
            // Both fail where it has ended by itself.
            let _ = self.0.kill();
            let _ = self.0.wait();
        }
    }
}

#[cfg(test)]
#[cfg(target_os = "linux")]
mod tests {
    use std::io::{BufRead, BufReader};
    use std::process::{Child, Command, Stdio};
    use std::sync::Mutex;
    use std::time::{Duration, Instant};

    use pollster::block_on;
    use zbus::connection;

    use super::*;

    /// A bus of its own, ended with the test.
    struct Bus {
        daemon: Child,
        address: String,
    }

    impl Bus {
        /// None where there is no bus to be had.
        fn start() -> Option<Self> {
            let mut command = Command::new("dbus-daemon");
            command.args(["--session", "--nofork", "--print-address"]);
            let mut daemon = command
                .stdout(Stdio::piped())
                .stderr(Stdio::null())
                .spawn()
                .ok()?;
            let mut address = String::new();
            BufReader::new(daemon.stdout.take()?)
                .read_line(&mut address)
                .ok()?;
            let address = address.trim().to_owned();
            Some(Self { daemon, address })
        }
    }

    impl Drop for Bus {
        fn drop(&mut self) {
            let _ = self.daemon.kill();
            let _ = self.daemon.wait();
        }
    }

    /// A screen saver that remembers what it was asked.
    struct Saver {
        asked: Arc<Mutex<Vec<String>>>,
    }

    #[zbus::interface(name = "org.freedesktop.ScreenSaver")]
    impl Saver {
        #[expect(clippy::needless_pass_by_value, reason = "as the bus hands it over")]
        fn inhibit(&self, name: String, reason: String) -> u32 {
            self.asked.lock().unwrap().push(format!("{name}: {reason}"));
            17
        }

        fn un_inhibit(&self, cookie: u32) {
            self.asked
                .lock()
                .unwrap()
                .push(format!("let go of {cookie}"));
        }
    }

    fn once(is_so: impl Fn() -> bool) {
        let begun = Instant::now();
        while !is_so() {
            assert!(begun.elapsed() < Duration::from_secs(10));
            std::thread::sleep(Duration::from_millis(10));
        }
    }

    #[test]
    fn the_screen_is_held_awake_while_braiding_and_let_go_after() {
        let Some(bus) = Bus::start() else {
            return;
        };
        let asked = Arc::new(Mutex::new(Vec::new()));
        let saver = Saver {
            asked: Arc::clone(&asked),
        };
        let served = connection::Builder::address(bus.address.as_str()).unwrap();
        let served = served.name("org.freedesktop.ScreenSaver").unwrap();
        let served = served
            .serve_at("/org/freedesktop/ScreenSaver", saver)
            .unwrap();
        let _served = block_on(served.build()).unwrap();
        let address = Some(bus.address.clone());
        let mut awake = Awake::by(Means { address });
        for _ in 0..3 {
            awake.keep(true);
        }
        once(|| asked.lock().unwrap().len() == 1);
        assert_eq!(awake.lack(), None);
        awake.keep(false);
        once(|| asked.lock().unwrap().len() == 2);
        let all = asked.lock().unwrap().clone();
        assert_eq!(
            all,
            ["Plaitwright: A cord is being braided", "let go of 17"]
        );
    }

    #[test]
    fn a_desktop_without_it_is_told_of_once_and_nothing_waits() {
        let Some(bus) = Bus::start() else {
            return;
        };
        let address = Some(bus.address.clone());
        let mut awake = Awake::by(Means { address });
        awake.keep(true);
        once(|| awake.lack() == Some(NO_WAKING));
    }
}
