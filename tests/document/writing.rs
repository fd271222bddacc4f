//! What of a file outlives its replacement: mode, owner, attributes, links; nothing is readable by others meanwhile.
#![cfg(unix)]

use std::fs;
use std::io::Write;
use std::os::unix::fs::{MetadataExt, PermissionsExt};
use std::path::Path;
use std::time::{Duration, SystemTime};

use heapwright::document::keeper::{Keeper, Pace, Work};
use heapwright::document::recovery::Recovery;
use heapwright::document::{Folders, Unkept, file, tidy};

use crate::sample::{folder, rich_project};

fn mode_of(path: &Path) -> u32 {
    fs::metadata(path).unwrap().mode() & 0o7777
}

#[test]
fn a_private_file_is_private_while_it_is_written() {
    let folder = folder();
    let path = folder.path().join("private.heap.ron");
    file::write(&path, &rich_project(), None).unwrap();
    for mode in [0o600, 0o640, 0o664] {
        fs::set_permissions(&path, fs::Permissions::from_mode(mode)).unwrap();
        file::write_by(&path, &rich_project(), None, |sibling, content| {
            // Before the first byte stands there, it is no more readable than the file it will replace.
            assert_eq!(sibling.metadata().unwrap().mode() & 0o7777, mode);
            assert_eq!(sibling.metadata().unwrap().len(), 0);
            sibling.write_all(content)
        })
        .unwrap();
        assert_eq!(mode_of(&path), mode);
    }
}

#[test]
fn a_new_file_is_as_the_mask_of_the_person_has_it() {
    let folder = folder();
    let usual = folder.path().join("usual");
    fs::write(&usual, "x").unwrap();
    let path = folder.path().join("new.heap.ron");
    file::write(&path, &rich_project(), None).unwrap();
    assert_eq!(mode_of(&path), mode_of(&usual));
}

#[test]
fn unsaved_work_is_for_its_owner_alone() {
    let root = folder();
    let folders = Folders::under(root.path());
    let keeper = Keeper::start(Recovery::start(&folders).unwrap(), Pace::USUAL).unwrap();
    let work = || Work {
        project: std::sync::Arc::new(rich_project()),
        original: None,
        stamp: None,
    };
    keeper.keep_now(work()).unwrap();
    assert_eq!(mode_of(&keeper.work_path()), 0o600);
    // As an earlier version left it.
    fs::set_permissions(keeper.work_path(), fs::Permissions::from_mode(0o644)).unwrap();
    keeper.keep_now(work()).unwrap();
    assert_eq!(mode_of(&keeper.work_path()), 0o600);
}

#[test]
fn other_names_keep_the_earlier_content_and_it_is_said() {
    let folder = folder();
    let (path, other) = (
        folder.path().join("one.heap.ron"),
        folder.path().join("two.heap.ron"),
    );
    let first = rich_project();
    file::write(&path, &first, None).unwrap();
    fs::hard_link(&path, &other).unwrap();
    let before = fs::read(&other).unwrap();
    let mut second = rich_project();
    second.title = "Second".to_owned();
    let saved = file::save(&path, &second, None).unwrap();
    assert_eq!(saved.unkept, [Unkept::OtherNames]);
    assert_eq!(fs::read(&other).unwrap(), before);
    assert_eq!(file::save(&path, &second, None).unwrap().unkept, []);
    let said = heapwright::text::error::saved_but("saved as one.heap.ron", &saved.unkept);
    assert!(said.contains("hard links"), "{said}");
}

#[cfg(target_os = "linux")]
#[test]
fn extended_attributes_are_kept() {
    use rustix::fs::{XattrFlags, getxattr, setxattr};
    let folder = folder();
    let path = folder.path().join("marked.heap.ron");
    file::write(&path, &rich_project(), None).unwrap();
    let name = c"user.withybed.note";
    if let Err(refused) = setxattr(&path, name, b"from the bay", XattrFlags::empty()) {
        // A disk without attributes has none to keep.
        assert_eq!(refused, rustix::io::Errno::OPNOTSUPP);
        return;
    }
    assert_eq!(file::save(&path, &rich_project(), None).unwrap().unkept, []);
    let mut value = [0_u8; 64];
    let length = getxattr(&path, name, &mut value).unwrap();
    assert_eq!(&value[..length], b"from the bay");
}

/// Only an administrator can give a file away (chown(2)); for others there is nothing to try.
#[test]
fn the_owner_is_kept_where_the_system_allows() {
    use std::os::unix::fs::chown;
    let folder = folder();
    let path = folder.path().join("theirs.heap.ron");
    file::write(&path, &rich_project(), None).unwrap();
    if chown(&path, Some(12_345), Some(12_346)).is_err() {
        let own = fs::metadata(folder.path()).unwrap().uid();
        assert_ne!(own, 0, "an administrator may give files away");
        return;
    }
    fs::set_permissions(&path, fs::Permissions::from_mode(0o660)).unwrap();
    assert_eq!(file::save(&path, &rich_project(), None).unwrap().unkept, []);
    let found = fs::metadata(&path).unwrap();
    assert_eq!((found.uid(), found.gid()), (12_345, 12_346));
    assert_eq!(mode_of(&path), 0o660);
}

#[test]
fn scraps_of_a_crash_are_tidied_and_nothing_else() {
    let folder = folder();
    let at = |name: &str| folder.path().join(name);
    let old = SystemTime::now() - Duration::from_hours(1);
    let make = |name: &str, when: SystemTime| {
        let file = fs::File::create(at(name)).unwrap();
        file.set_modified(when).unwrap();
        file
    };
    drop(make(".heapwright-crashed.tmp", old));
    drop(make(".heapwright-just-now.tmp", SystemTime::now()));
    let held = make(".heapwright-held.tmp", old);
    held.try_lock().unwrap();
    drop(make("mine.tmp", old));
    drop(make(".heapwright-notes", old));
    fs::create_dir(at(".heapwright-folder.tmp")).unwrap();
    std::os::unix::fs::symlink(at("mine.tmp"), at(".heapwright-link.tmp")).unwrap();
    tidy(folder.path());
    assert!(!at(".heapwright-crashed.tmp").exists());
    for left in [
        ".heapwright-just-now.tmp",
        ".heapwright-held.tmp",
        "mine.tmp",
        ".heapwright-notes",
        ".heapwright-folder.tmp",
        ".heapwright-link.tmp",
    ] {
        assert!(at(left).exists(), "{left} was taken away");
    }
    // What is being written is held, however long it takes.
    let path = at("slow.heap.ron");
    file::write_by(&path, &rich_project(), None, |sibling, content| {
        sibling.set_modified(old)?;
        tidy(folder.path());
        sibling.write_all(content)
    })
    .unwrap();
    assert!(path.exists());
}
