//! The same sources give the same bytes, whatever the machine is doing.

use super::Desk;

#[test]
fn threads_folder_time_zone_and_language_do_not_show() {
    let desk = Desk::with_manual();
    desk.run(&["compile", "--threads", "1", "--out", "one"]).ends(0);
    desk.run(&["compile", "--threads", "2", "--out", "two"]).ends(0);

    let other = Desk::empty();
    let (folder, out) = (desk.path("manual-src"), other.path("three"));
    let mut command = other.command(&["compile", "--out"]);
    command
        .arg(&out)
        .arg(&folder)
        .env("TZ", "Pacific/Auckland")
        .env("LC_ALL", "de_DE.UTF-8")
        .env("HOME", "/nonexistent");
    super::Run::of(command.output().expect("it runs")).ends(0);

    let one = desk.files("one");
    assert!(one.len() > 10, "{:?}", one.keys());
    for (name, files) in [("two threads", desk.files("two")), ("another folder and time zone", other.files("three"))] {
        assert_eq!(one.keys().collect::<Vec<_>>(), files.keys().collect::<Vec<_>>(), "{name}");
        for (file, bytes) in &one {
            assert!(files[file] == *bytes, "{name}: {file} differs");
        }
    }
}

#[test]
fn nothing_of_the_machine_is_written() {
    let desk = Desk::compiled();
    let machine = desk.path("").to_string_lossy().trim_end_matches('/').to_owned();
    for (file, bytes) in desk.files("out") {
        let text = String::from_utf8_lossy(&bytes);
        assert!(!text.contains(&machine), "{file} names {machine}");
    }
}

/// Photographs in grey are kept beside the configurations' folders: with them, without them and with spoilt ones the
/// output is the same.
#[test]
fn what_is_kept_between_runs_does_not_show() {
    let desk = Desk::with_manual();
    let photograph = {
        let mut rgb = image::RgbImage::new(64, 48);
        rgb.enumerate_pixels_mut().for_each(|(x, y, p)| *p = image::Rgb([(x * 3) as u8, (y * 5) as u8, 90]));
        let mut out = std::io::Cursor::new(Vec::new());
        rgb.write_to(&mut out, image::ImageFormat::Jpeg).expect("a JPEG");
        out.into_inner()
    };
    std::fs::write(desk.path("manual-src/figures/photograph.jpg"), photograph).expect("written");
    let step = "---\nstep: look\ntitle: Look at it\nsection: running-gear\nfigures:\n  - { figure: photograph.jpg, alt: Colours, \
        view: looking down, up: toward the reader, forward: top }\n---\n\n1. Look at it.\n";
    desk.write("manual-src/steps/running-gear/90-look.md", step);
    let kept = desk.path("out/.kitwright-kept");
    let made = |desk: &Desk| {
        desk.run(&["compile"]).ends(0);
        desk.files("out").into_iter().filter(|(path, _)| !path.starts_with('.')).collect::<Vec<_>>()
    };
    let first = made(&desk);
    let entries: Vec<_> = std::fs::read_dir(&kept).expect("kept").map(|e| e.expect("an entry").path()).collect();
    assert_eq!(entries.len(), 1, "one photograph, for all configurations: {entries:?}");
    assert!(made(&desk) == first, "with what is kept");
    let whole = std::fs::read(&entries[0]).expect("read");
    let spoilt = [b"", &whole[..whole.len() / 2], &whole[whole.len() / 2..], b"\xff\xd8\xff\xd9"];
    for bytes in spoilt {
        std::fs::write(&entries[0], bytes).expect("written");
        assert!(made(&desk) == first, "with a spoilt one");
        assert_eq!(std::fs::read(&entries[0]).expect("read"), whole, "it is made anew");
    }
    std::fs::remove_dir_all(&kept).expect("removed");
    assert!(made(&desk) == first, "without");
}
