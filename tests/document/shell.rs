//! Completions and manual pages as the built program writes them, and the papers of the package beside them.

use std::path::Path;
use std::process::Command;

/// Commands that a person finds in `--help`.
const COMMANDS: [&str; 11] = [
    "assess",
    "curve",
    "balance",
    "handout",
    "dates",
    "trials",
    "wrong",
    "year",
    "learn",
    "beliefs",
    "materials",
];

fn said(arguments: &[&str]) -> (Option<i32>, String, String) {
    let output = Command::new(env!("CARGO_BIN_EXE_heapwright"))
        .args(arguments)
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .output()
        .unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (
        output.status.code(),
        text(output.stdout),
        text(output.stderr),
    )
}

fn good(arguments: &[&str]) -> String {
    let (code, out, complaints) = said(arguments);
    assert_eq!((code, complaints.as_str()), (Some(0), ""), "{arguments:?}");
    out
}

fn asset(name: &str) -> String {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/desktop");
    std::fs::read_to_string(folder.join(name)).unwrap()
}

#[test]
fn every_shell_completes_every_command() {
    for shell in ["bash", "zsh", "fish"] {
        let script = good(&["completions", shell]);
        for command in COMMANDS {
            assert!(script.contains(command), "{shell}: {command}");
        }
        assert!(
            !script.contains("\\u001b"),
            "{shell}: a character of the script was written as its code"
        );
    }
}

#[test]
fn bash_reads_its_completions() {
    let script = good(&["completions", "bash"]);
    let Ok(mut bash) = Command::new("bash").args(["-n", "-c", &script]).spawn() else {
        // No bash here: nothing to hold the script against.
        return;
    };
    assert!(bash.wait().unwrap().success());
}

#[test]
fn the_program_and_each_command_have_a_manual_page() {
    let whole = good(&["manual"]);
    assert!(whole.contains(".TH heapwright 1"), "{whole}");
    for command in COMMANDS {
        assert!(
            whole.contains(&format!("heapwright\\-{command}(1)")),
            "{command}"
        );
        let page = good(&["manual", command]);
        assert!(
            page.contains(&format!(".TH heapwright-{command} 1")),
            "{page}"
        );
        assert!(page.contains(".SH SYNOPSIS"), "{command}");
    }
    // What is made for packagers alone is in no list.
    for hidden in ["completions", "manual"] {
        assert!(!whole.contains(&format!("heapwright\\-{hidden}(1)")));
        assert!(!good(&["--help"]).contains(&format!("  {hidden} ")));
        let (code, _, complaint) = said(&["manual", hidden]);
        assert_eq!(code, Some(2));
        assert!(complaint.contains("no command"), "{complaint}");
    }
}

#[test]
fn the_desktop_learns_both_kinds_of_file_by_the_names_the_program_writes() {
    let (entry, kinds) = (asset("heapwright.desktop"), asset("heapwright-mime.xml"));
    for (kind, pattern) in [
        ("application/x-heapwright-heap", "*.heap.ron"),
        ("application/x-heapwright-year", "*.year.ron"),
    ] {
        assert!(entry.contains(&format!("{kind};")), "{kind}");
        assert!(
            kinds.contains(&format!("<mime-type type=\"{kind}\">")),
            "{kind}"
        );
        assert!(
            kinds.contains(&format!("<glob pattern=\"{pattern}\"/>")),
            "{pattern}"
        );
    }
    assert!(entry.contains("Exec=heapwright %f"));
}

#[test]
fn the_shops_entry_tells_of_this_version() {
    let told = asset("example.withybed.heapwright.metainfo.xml");
    let version = env!("CARGO_PKG_VERSION");
    assert!(
        told.contains(&format!("<release version=\"{version}\"")),
        "{told}"
    );
}
