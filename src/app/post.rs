//! Where the window leaves work for a thread, and the thread waits for some.

use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

/// A board that both sides look at.
#[derive(Debug, Default)]
pub(super) struct Post<B> {
    board: Mutex<B>,
    news: Condvar,
}

impl<B> Post<B> {
    /// The board, for this side alone while it is held. A panic of the thread must not
    /// take the window with it.
    pub(super) fn board(&self) -> MutexGuard<'_, B> {
        self.board.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Says that something was left.
    pub(super) fn ring(&self) {
        self.news.notify_one();
    }

    /// Waits until something is left.
    pub(super) fn wait<'a>(&self, board: MutexGuard<'a, B>) -> MutexGuard<'a, B> {
        self.news
            .wait(board)
            .unwrap_or_else(PoisonError::into_inner)
    }

    /// Waits so long, or until the board is no longer as said.
    pub(super) fn wait_while<'a>(
        &self,
        board: MutexGuard<'a, B>,
        most: Duration,
        is_as_said: impl FnMut(&mut B) -> bool,
    ) -> MutexGuard<'a, B> {
        let waited = self.news.wait_timeout_while(board, most, is_as_said);
        waited.unwrap_or_else(PoisonError::into_inner).0
    }
}
