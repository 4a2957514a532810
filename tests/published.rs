//! The engine against the literature. Every expected figure has its source
//! beside it; none of them is known to the engine.

#![expect(clippy::print_stdout, reason = "what was found is shown")]

#[path = "published/bundles.rs"]
mod bundles;
#[path = "bench/checks/mod.rs"]
mod checks;
#[path = "published/knot_table.rs"]
mod knot_table;
#[path = "published/knots.rs"]
mod knots;
#[path = "published/ropes.rs"]
mod ropes;
#[path = "published/weaves.rs"]
mod weaves;

use checks::check::Check;

fn assert_met(checks: &[Check]) {
    for check in checks {
        println!("{}", check.row());
        assert!(check.is_met(), "{}", check.row());
    }
}

fn assert_near(found: f64, published: f64, tolerance: f64, what: &str) {
    assert!(
        (found - published).abs() <= tolerance,
        "{what}: found {found}, published {published} ± {tolerance}"
    );
}
