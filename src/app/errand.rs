//! A piece of work on a thread of its own that tells as it goes.
//!
//! Dropping it stops the work: whoever does it asks after each bit whether
//! anybody still listens.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};

use eframe::egui::Context;

/// Work that is being done, or was done to its end.
#[derive(Debug)]
pub struct Errand<T> {
    news: Receiver<T>,
    stopped: Arc<AtomicBool>,
}

/// How the work tells what it found.
#[derive(Debug, Clone)]
pub struct Teller<T> {
    news: Sender<T>,
    stopped: Arc<AtomicBool>,
    wake: Context,
}

impl<T> Teller<T> {
    /// Whether nobody listens any more.
    pub fn is_stopped(&self) -> bool {
        self.stopped.load(Ordering::Relaxed)
    }

    /// Tells something, and has the window look at it.
    pub fn tell(&self, news: T) {
        if self.news.send(news).is_ok() {
            self.wake.request_repaint();
        }
    }
}

impl<T: Send + 'static> Errand<T> {
    /// Sends a thread called `name` off to do the work.
    pub fn send(name: &str, wake: &Context, work: impl FnOnce(Teller<T>) + Send + 'static) -> Self {
        let (send, news) = channel();
        let stopped = Arc::new(AtomicBool::new(false));
        let teller = Teller {
            news: send,
            stopped: Arc::clone(&stopped),
            wake: wake.clone(),
        };
        let thread = std::thread::Builder::new().name(name.to_owned());
        if let Err(error) = thread.spawn(move || work(teller)) {
            log::error!("no thread for the {name}: {error}");
        }
        Self { news, stopped }
    }

    /// What was told since the last time.
    pub fn heard(&self) -> Vec<T> {
        self.news.try_iter().collect()
    }
}

impl<T> Drop for Errand<T> {
    fn drop(&mut self) {
        self.stopped.store(true, Ordering::Relaxed);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_told_is_heard_and_dropping_stops_the_work() {
        let (done, ended) = channel();
        let errand = Errand::send("test", &Context::default(), move |teller| {
            teller.tell(1);
            while !teller.is_stopped() {
                std::thread::yield_now();
            }
            let _ = done.send(());
        });
        let mut heard = Vec::new();
        while heard.is_empty() {
            heard = errand.heard();
        }
        assert_eq!(heard, [1]);
        drop(errand);
        assert!(ended.recv().is_ok(), "it came to its end");
    }
}
