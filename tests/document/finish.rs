//! One rule of "finished": no report says that a heap is finished and that it is not.

use std::path::Path;

use heapwright::document::file;
use heapwright::export::{Assessment, json, report};

use crate::sample::catalogue;

/// What is said of a heap that is finished within the run, and of one that is not. Each begins a sentence on when
/// it is done, on its activity, or on its heating again.
const FINISHED: [&str; 3] = [
    "seedlings and pots from about day",
    "seedlings and pots, from about day",
    "activity would be very low",
];
const NOT_FINISHED: [&str; 4] = [
    "not yet for seedlings and pots",
    "not fit for seedlings and pots",
    "not be finished",
    "still be at work",
];

#[test]
fn no_report_says_both_that_a_heap_is_finished_and_that_it_is_not() {
    // The summary of the heap and the judgement further down must agree, and so must the numbers for other programs.
    // At 120 days no demo is finished; at 300 days three of four are.
    let mut finished = 0;
    for name in [
        "autumn-leaves",
        "spring-grass",
        "summer-hot",
        "winter-kitchen",
    ] {
        for days in [120.0, 300.0] {
            let path = format!(
                "{}/demo-data/withybed-{name}.heap.ron",
                env!("CARGO_MANIFEST_DIR")
            );
            let mut project = file::read(Path::new(&path), catalogue()).unwrap().project;
            project.heap.days = days;
            let assessment = Assessment::of(&project, catalogue()).unwrap();
            let text = report(&assessment);
            let says = |phrases: &[&str]| phrases.iter().any(|phrase| text.contains(phrase));
            let (is, is_not) = (says(&FINISHED), says(&NOT_FINISHED));
            assert!(is != is_not, "{name}, {days} days: {is} {is_not}\n{text}");
            let value: serde_json::Value =
                serde_json::from_str(&json(&assessment).unwrap()).unwrap();
            let day = &value["outcome"]["finished_day"];
            assert_eq!(*day, value["projection"]["finished_day"], "{name}");
            assert_eq!(day.is_f64(), is, "{name}, {days} days");
            finished += usize::from(is);
        }
    }
    assert!((1..8).contains(&finished), "both kinds are met: {finished}");
}
