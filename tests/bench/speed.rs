//! Checks, timings and memory, printed as the tables that stand in DEVELOPERS.md.
//!
//! `cargo bench` prints all; `cargo bench -- engine` one group of published, braids, engine,
//! sensitivities, growth, stop, memory, peer, cords, crossings, pictures, looks,
//! surfaces, patterns, sheets, wishes, places, lost, steps. Machines differ: compare within
//! one run.
#![expect(clippy::print_stdout, reason = "printing is what a benchmark is for")]

mod braids;
mod checks;
mod clock;
mod cords;
mod crossings;
mod engine;
#[path = "../reference/hard_limit.rs"]
mod hard_limit;
mod lost;
mod memory;
mod patterns;
mod peer;
mod pictures;
mod places;
mod sheets;
#[path = "../reference/start.rs"]
mod start;
mod steps;
mod surfaces;
mod table;
mod tubes;
mod wishes;

fn main() {
    if std::env::args().any(|word| word == memory::CHILD) {
        memory::be_the_child();
        return;
    }
    let wanted = clock::Wanted::from_arguments();
    let groups: [(&str, fn()); 19] = [
        ("published", table::print),
        ("braids", braids::judged),
        ("engine", engine::solves),
        ("sensitivities", engine::sensitivity),
        ("growth", engine::growth),
        ("stop", engine::stopping),
        ("memory", memory::print),
        ("peer", peer::print),
        ("cords", cords::solves),
        ("crossings", crossings::compared),
        ("pictures", pictures::strips),
        ("looks", pictures::looks),
        ("surfaces", surfaces::unrolled),
        ("patterns", patterns::patterns),
        ("sheets", sheets::composed),
        ("wishes", wishes::searches),
        ("places", places::kept),
        ("lost", lost::diagnoses),
        ("steps", steps::pressed),
    ];
    for (_, print) in groups.iter().filter(|(name, _)| wanted.wants(name)) {
        print();
    }
}
