//! The import table, tested: which room may know which, no cycle of modules anywhere, headers whole.
//!
//! The table stands in `src/lib.rs` in words. Modules are told apart by their path, `mod.rs` is a module like
//! any other. A `pub use` names an item elsewhere and is followed, it is no import of its own.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// Who may import whom.
const ALLOWED: [(&str, &[&str]); 15] = [
    ("quantity", &[]),
    ("garden", &[]),
    ("diary", &["quantity"]),
    ("material", &["quantity"]),
    ("mix", &["material", "quantity"]),
    ("year", &["mix", "material", "quantity"]),
    ("heap", &["mix", "material", "quantity"]),
    (
        "outcome",
        &["garden", "heap", "mix", "material", "quantity"],
    ),
    (
        "forecast",
        &["outcome", "diary", "heap", "mix", "material", "quantity"],
    ),
    (
        "document",
        &[
            "garden", "diary", "heap", "year", "mix", "material", "quantity",
        ],
    ),
    (
        "assess",
        &[
            "forecast", "outcome", "document", "garden", "diary", "heap", "year", "mix",
            "material", "quantity",
        ],
    ),
    (
        "text",
        &[
            "assess", "forecast", "outcome", "document", "garden", "diary", "heap", "year", "mix",
            "material", "quantity",
        ],
    ),
    (
        "export",
        &[
            "text", "assess", "forecast", "outcome", "document", "garden", "diary", "heap", "year",
            "mix", "material", "quantity",
        ],
    ),
    (
        "command",
        &[
            "export", "text", "assess", "forecast", "outcome", "document", "garden", "diary",
            "heap", "year", "mix", "material", "quantity",
        ],
    ),
    (
        "window",
        &[
            "export", "text", "assess", "forecast", "outcome", "document", "garden", "diary",
            "heap", "year", "mix", "material", "quantity",
        ],
    ),
];
/// The parts of the window from below; a part knows those before it.
const WINDOW_ORDER: [&[&str]; 9] = [
    &["theme"],
    &["jobs"],
    &["piles"],
    &["action"],
    &["page"],
    &["widgets"],
    &VIEWS,
    &["verbs"],
    &["app", "run"],
];
/// Views, and what lies over them: none knows another.
const VIEWS: [&str; 9] = [
    "mix",
    "heap",
    "results",
    "class",
    "materials",
    "diary",
    "recipes",
    "year",
    "overlays",
];
/// Crates that only the window may name.
const WINDOW_CRATES: [&str; 5] = ["eframe", "egui", "egui_plot", "rfd", "winit"];

/// A module by its path below `src`: `["heap", "run", "step"]`.
type Module = Vec<String>;

/// The sources: file, module, code without comments, the whole text.
struct Source {
    file: PathBuf,
    module: Module,
    code: String,
    text: String,
}

fn sources() -> Vec<Source> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut found = Vec::new();
    let mut folders = vec![root.clone()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                let text = std::fs::read_to_string(&path).unwrap();
                let file = path.strip_prefix(&root).unwrap().to_owned();
                found.push(Source {
                    module: module_of(&file),
                    code: code_of(&text),
                    file,
                    text,
                });
            }
        }
    }
    assert!(found.len() > 15, "the sources were not found");
    found.sort_by(|a, b| a.file.cmp(&b.file));
    found
}

fn module_of(file: &Path) -> Module {
    let mut parts: Module = file
        .with_extension("")
        .components()
        .map(|part| part.as_os_str().to_string_lossy().into_owned())
        .collect();
    if parts.last().is_some_and(|last| last == "mod") {
        parts.pop();
    }
    parts
}

/// The code: no comments, no text between quotes.
fn code_of(text: &str) -> String {
    let mut out = String::new();
    for line in text.lines() {
        let mut quoted = false;
        let mut escaped = false;
        let mut last = ' ';
        for letter in line.chars() {
            if quoted {
                quoted = escaped || letter != '"';
                escaped = !escaped && letter == '\\';
                continue;
            }
            if letter == '/' && last == '/' {
                out.pop();
                break;
            }
            quoted = letter == '"' && last != '\'';
            out.push(letter);
            last = letter;
        }
        out.push('\n');
    }
    out
}

/// Every path of a `use` tree, its braces multiplied out; `as` names are left out.
fn spread_use(tree: &str) -> Vec<String> {
    let tree = tree.trim();
    let Some(open) = tree.find('{') else {
        let path = tree.split(" as ").next().unwrap_or(tree);
        return vec![path.trim().to_owned()];
    };
    let inner = &tree[open + 1..tree.rfind('}').unwrap()];
    let (mut depth, mut from, mut pieces) = (0, 0, Vec::new());
    for (at, letter) in inner.char_indices() {
        match letter {
            '{' => depth += 1,
            '}' => depth -= 1,
            ',' if depth == 0 => {
                pieces.push(&inner[from..at]);
                from = at + 1;
            }
            _ => {}
        }
    }
    pieces.push(&inner[from..]);
    let head = tree[..open].trim();
    pieces
        .into_iter()
        .filter(|piece| !piece.trim().is_empty())
        .flat_map(|piece| spread_use(&format!("{head}{}", piece.trim())))
        .collect()
}

/// Paths a source names: by imports, by re-exports, in the middle of code.
struct Named {
    imports: Vec<String>,
    re_exports: Vec<String>,
    inline: Vec<String>,
    /// Names on their own.
    words: BTreeSet<String>,
}

fn named_in(code: &str) -> Named {
    let mut named = Named {
        imports: Vec::new(),
        re_exports: Vec::new(),
        inline: Vec::new(),
        words: BTreeSet::new(),
    };
    let mut rest = String::new();
    for statement in code
        .replace("pub(in crate", "pub(in_crate")
        .split_inclusive(';')
    {
        let at = ["\nuse ", "\npub use ", "    use "]
            .iter()
            .filter_map(|key| statement.rfind(key).map(|at| (at, key.len())))
            .max()
            .or_else(|| {
                let restricted = statement.rfind("\npub(")?;
                let length = statement[restricted..].find(") use ")? + ") use ".len();
                Some((restricted, length))
            });
        let Some((at, length)) = at else {
            rest.push_str(statement);
            continue;
        };
        rest.push_str(&statement[..at]);
        let tree = statement[at + length..].trim_end_matches(';');
        let paths = spread_use(&tree.replace('\n', " "));
        if statement[at..].starts_with("\npub") {
            named.re_exports.extend(paths);
        } else {
            named.imports.extend(paths);
        }
    }
    let letters: Vec<char> = rest.chars().collect();
    let mut word = String::new();
    for (at, letter) in letters.iter().enumerate() {
        let inside = letter.is_alphanumeric() || *letter == '_' || *letter == ':';
        if inside {
            word.push(*letter);
        }
        if (!inside || at + 1 == letters.len()) && !word.is_empty() {
            let path = std::mem::take(&mut word);
            if path.trim_end_matches(':').contains("::") {
                named.inline.push(path.trim_matches(':').to_owned());
            }
            // A field or a variable may be called as a function is; only a call names that.
            let first = path.split(':').next().unwrap_or_default();
            if *letter == '(' || first.starts_with(char::is_uppercase) {
                named.words.insert(first.to_owned());
            }
        }
    }
    named
}

/// The path from the top of `src`, if it leads into this crate.
fn absolute(path: &str, from: &Module, modules: &BTreeSet<Module>) -> Option<Module> {
    let parts: Vec<&str> = path.split("::").map(str::trim).collect();
    let mut at = match parts[0] {
        "crate" => Vec::new(),
        "self" | "super" => from.clone(),
        child => {
            let mut inside = from.clone();
            inside.push(child.to_owned());
            if !modules.contains(&inside) {
                return None;
            }
            from.clone()
        }
    };
    for part in parts {
        match part {
            "crate" | "self" => {}
            "super" => {
                at.pop();
            }
            other => at.push(other.to_owned()),
        }
    }
    Some(at)
}

/// Where names that a module re-exports are defined.
type ReExports = BTreeMap<Module, BTreeMap<String, Module>>;

/// The module in which what a path names is defined.
fn defined_in(path: &Module, modules: &BTreeSet<Module>, re_exports: &ReExports) -> Module {
    let mut path = path.clone();
    for _ in 0..16 {
        let mut length = path.len();
        while length > 0 && !modules.contains(&path[..length].to_vec()) {
            length -= 1;
        }
        let module = path[..length].to_vec();
        let next = path
            .get(length)
            .and_then(|name| re_exports.get(&module)?.get(name));
        match next {
            Some(target) => path = target.clone(),
            None => return module,
        }
    }
    panic!("re-exports run in a circle at {path:?}");
}

/// What a module re-exports and uses itself.
fn own_re_exports(named: &Named, own: Option<&BTreeMap<String, Module>>) -> Vec<Module> {
    own.into_iter()
        .flatten()
        .filter(|(name, _)| named.words.contains(*name))
        .map(|(_, target)| target.clone())
        .collect()
}

/// Every module with the modules whose items it names.
fn graph(sources: &[Source]) -> BTreeMap<Module, BTreeSet<Module>> {
    let modules: BTreeSet<Module> = sources.iter().map(|s| s.module.clone()).collect();
    let mut re_exports = ReExports::new();
    for source in sources {
        for path in named_in(&source.code).re_exports {
            if let Some(target) = absolute(&path, &source.module, &modules) {
                let name = target.last().cloned().unwrap_or_default();
                let names = re_exports.entry(source.module.clone()).or_default();
                names.insert(name, target);
            }
        }
    }
    let mut graph = BTreeMap::new();
    for source in sources {
        let named = named_in(&source.code);
        let known: BTreeSet<Module> = named
            .imports
            .iter()
            .chain(&named.inline)
            .filter_map(|path| absolute(path, &source.module, &modules))
            .chain(own_re_exports(&named, re_exports.get(&source.module)))
            .map(|path| defined_in(&path, &modules, &re_exports))
            .filter(|module| *module != source.module && !module.is_empty())
            .collect();
        graph.insert(source.module.clone(), known);
    }
    graph
}

fn is_root(module: &Module) -> bool {
    module.len() == 1 && ["lib", "main"].contains(&module[0].as_str())
}

fn written(module: &Module) -> String {
    module.join("::")
}

#[test]
fn rooms_import_only_what_the_table_allows() {
    let table: BTreeMap<&str, &[&str]> = ALLOWED.into_iter().collect();
    for (module, known) in graph(&sources()) {
        if is_root(&module) {
            continue;
        }
        let room = module[0].as_str();
        let allowed = table
            .get(room)
            .unwrap_or_else(|| panic!("{room} is not in the table"));
        for other in known {
            assert!(
                other[0] == room || allowed.contains(&other[0].as_str()),
                "{} must not import {}",
                written(&module),
                written(&other)
            );
        }
    }
}

#[test]
fn parts_of_the_window_import_only_those_before_them() {
    let rank = |part: &str| WINDOW_ORDER.iter().position(|row| row.contains(&part));
    let mut seen = 0;
    for (module, known) in graph(&sources()) {
        if module[0] != "window" || module.len() < 2 {
            continue;
        }
        let part = module[1].as_str();
        let own = rank(part).unwrap_or_else(|| panic!("window::{part} is not in the order"));
        seen += 1;
        for other in known
            .iter()
            .filter(|other| other[0] == "window" && other.get(1) != Some(&module[1]))
        {
            let of = other
                .get(1)
                .and_then(|part| rank(part))
                .unwrap_or_else(|| panic!("{} uses {}", written(&module), written(other)));
            assert!(
                of < own || (of == own && !VIEWS.contains(&part)),
                "{} must not import {}",
                written(&module),
                written(other)
            );
        }
    }
    assert!(seen > 40, "the parts of the window were not found");
}

#[test]
fn modules_form_no_cycle() {
    let graph = graph(&sources());
    let mut circles = Vec::new();
    for start in graph.keys() {
        let mut came_from: BTreeMap<&Module, &Module> = BTreeMap::new();
        let mut open: Vec<&Module> = vec![start];
        while let Some(at) = open.pop() {
            for next in graph.get(at).into_iter().flatten() {
                if next == start {
                    let mut way = vec![written(start)];
                    let mut back = at;
                    while back != start {
                        way.push(written(back));
                        back = came_from[back];
                    }
                    way.push(written(start));
                    way.reverse();
                    circles.push(way.join(" -> "));
                }
                if next != start && !came_from.contains_key(next) {
                    came_from.insert(next, at);
                    open.push(next);
                }
            }
        }
    }
    circles.sort_by_key(String::len);
    assert!(circles.is_empty(), "cycles:\n{}", circles.join("\n"));
}

#[test]
fn the_reading_of_imports_is_right() {
    let code = code_of(
        "use super::{a::B, c::{D, E as F}};\npub use run::simulate; // crate::no\nfn f() { let x = \"crate::no\"; crate::mix::g(); }\n",
    );
    let code = format!("\n{code}");
    let named = named_in(&code);
    assert_eq!(named.imports, ["super::a::B", "super::c::D", "super::c::E"]);
    assert_eq!(named.re_exports, ["run::simulate"]);
    assert!(named.inline.contains(&"crate::mix::g".to_owned()));
    assert!(!code.contains("no"));
    let modules: BTreeSet<Module> = [vec!["a"], vec!["a", "run"]]
        .map(|path| path.into_iter().map(str::to_owned).collect())
        .into();
    let from = vec!["a".to_owned(), "run".to_owned()];
    let path = absolute("super::Heap", &from, &modules).unwrap();
    assert_eq!(written(&path), "a::Heap");
    assert_eq!(
        written(&defined_in(&path, &modules, &ReExports::new())),
        "a"
    );
}

#[test]
fn only_the_window_names_window_crates() {
    for source in sources() {
        let free =
            source.module[0] == "window" && source.module.get(1).is_none_or(|part| part != "jobs");
        if free {
            continue;
        }
        for line in source.code.lines() {
            for name in WINDOW_CRATES {
                let dialog = name == "rfd" && source.module.ends_with(&["dialog".to_owned()]);
                assert!(
                    dialog || !line.contains(&format!("{name}::")),
                    "{}: {line}",
                    source.file.display()
                );
            }
        }
    }
}

#[test]
fn every_module_opens_with_its_four_part_header() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    for source in sources().iter().filter(|source| !is_root(&source.module)) {
        let header: Vec<&str> = source
            .text
            .lines()
            .take_while(|line| line.starts_with("//!"))
            .collect();
        let whole = header.join("\n");
        for part in ["In:", "Out:", "Not here:", "Tested by:"] {
            assert!(
                whole.contains(part),
                "{} lacks \"{part}\" in its header",
                source.file.display()
            );
        }
        let tests = whole.split("Tested by:").nth(1).unwrap_or_default();
        for path in tests.split('`').filter(|piece| piece.starts_with("tests/")) {
            assert!(
                root.join(path).exists(),
                "{} names {path}, which is not there",
                source.file.display()
            );
        }
    }
}
