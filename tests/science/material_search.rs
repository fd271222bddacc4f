//! Gardeners' words against the search: 287 words judged by hand, slips, and words that lie inside others.

use heapwright::material::{KeepOut, keep_out};
use heapwright::text::material::family;

use crate::support::materials::built_in;

fn found(query: &str) -> Vec<&'static str> {
    built_in()
        .search(query, family)
        .into_iter()
        .map(|material| material.id.as_str())
        .collect()
}

fn first_three(query: &str) -> Vec<&'static str> {
    found(query).into_iter().take(3).collect()
}

fn told(query: &str) -> Vec<String> {
    let named = |entry: &KeepOut| entry.is_named_by(query);
    let all = keep_out().unwrap();
    all.into_iter()
        .filter(named)
        .map(|entry| entry.id)
        .collect()
}

/// The words with what each may rightly find. Source: tests/reference/gardeners_words.csv, which says how it was made.
fn gardeners_words() -> Vec<(String, Vec<String>)> {
    let table = std::fs::read_to_string("tests/reference/gardeners_words.csv").unwrap();
    table
        .lines()
        .filter(|line| !line.starts_with('#'))
        .skip(1)
        .map(|line| {
            let (word, finds) = line.split_once(',').unwrap();
            let finds = finds.split(' ').map(str::to_owned).collect();
            (word.to_owned(), finds)
        })
        .collect()
}

#[test]
fn what_gardeners_type_finds_what_they_mean_among_the_first_three() {
    let words = gardeners_words();
    assert_eq!(words.len(), 287);
    let missed: Vec<String> = words
        .iter()
        .filter_map(|(word, finds)| {
            let (first, told) = (first_three(word), told(word));
            let right = finds.iter().any(|id| match id.strip_prefix("keep-out:") {
                Some(id) => told.iter().any(|told| told == id),
                None => {
                    assert!(built_in().find(id).is_some(), "{word}: {id}");
                    first.contains(&id.as_str())
                }
            });
            (!right).then(|| format!("{word}: {first:?} instead of {finds:?}"))
        })
        .collect();
    // At least 270, as was asked for; all that miss are printed.
    println!("{} of {} missed: {missed:#?}", missed.len(), words.len());
    assert!(missed.len() <= 287 - 270, "{missed:#?}");
}

#[test]
fn words_inside_other_words_are_not_what_was_meant() {
    assert!(found("hen").iter().all(|id| id.starts_with("poultry")));
    assert_eq!(found("oil")[0], "fats_oils");
    assert!(!found("oil").contains(&"soil") && !found("oil").contains(&"eggs_spoiled"));
    assert_eq!(found("ash")[0], "wood_ash");
    assert!(!found("ash").contains(&"squash_vines"));
    assert_eq!(found("soil")[0], "soil");
    assert_eq!(found("pee")[0], "urine");
    assert_eq!(found("rice")[0], "rice_pasta");
    // The end of a longer word is found, after the word itself.
    let weed = found("weed");
    let place = |id: &str| weed.iter().position(|found| *found == id).unwrap();
    assert!(place("weeds_soft") < place("seaweed"));
}

#[test]
fn small_slips_and_other_spellings_are_understood() {
    for (typed, id) in [
        ("cardbord", "cardboard"),
        ("bananna peel", "banana_peel"),
        ("comfery", "comfrey"),
        ("sawdsut", "sawdust"),
        ("potatoe peelings", "potato_peel"),
        ("newspapper", "newspaper"),
        ("seeweed", "seaweed"),
        ("horse manuer", "horse_fresh"),
        ("cofee grounds", "coffee_grounds"),
        ("leaf-mould", "leafmould"),
        ("LAWN CLIPPINGS", "grass_fresh"),
        ("brewer's grain", "brewers_grain"),
        ("nitrogen fertilizer", "urea"),
        ("moldy bread", "bread"),
        ("cow muck", "cattle_fresh"),
        ("tea bag", "tea_bags"),
        ("trimmed hedge", "hedge_soft"),
        ("chipped wood", "wood_chips_arb"),
    ] {
        let first = first_three(typed);
        assert!(first.contains(&id), "{typed}: {first:?}");
    }
    // What is like nothing stays unfound.
    for typed in ["zzz", "moonrock", "xylophone", "堆肥"] {
        assert_eq!(found(typed), Vec::<&str>::new(), "{typed}");
    }
}

#[test]
fn what_is_only_begun_is_found_on_the_way() {
    for typed in [
        "gr",
        "gra",
        "gras",
        "grass",
        "grass c",
        "grass cli",
        "grass clippings",
    ] {
        let first = first_three(typed);
        assert!(
            first.iter().any(|id| id.starts_with("gra")),
            "{typed}: {first:?}"
        );
    }
    // Words nobody has together lead to what has most of them.
    assert!(first_three("my neighbour's lawn clippings").contains(&"grass_fresh"));
    assert!(first_three("a few orange peels").contains(&"citrus_peel"));
}

#[test]
fn what_to_keep_out_says_why_and_how_firm_that_is() {
    let all = keep_out().unwrap();
    for entry in &all {
        assert!(
            entry.why.len() > 20 && !entry.source.is_empty(),
            "{}",
            entry.id
        );
        for called in &entry.called {
            assert!(entry.is_named_by(called), "{called}");
        }
        for safe in [
            "wood ash",
            "ash",
            "plastic bag",
            "paper",
            "leaves",
            "wood",
            "",
        ] {
            assert!(!entry.is_named_by(safe), "{safe}: {}", entry.id);
        }
    }
    assert_eq!(told("coal ash from the stove"), ["coal_ash"]);
    assert_eq!(told("dirty nappies"), ["nappies"]);
}
