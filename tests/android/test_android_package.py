"""What can be known of the phone's package without Android's SDK."""

from __future__ import annotations

import configparser
import json
import os
import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path
from types import SimpleNamespace

import jinja2
import pytest
import pythonforandroid
from click.testing import CliRunner
from jvm import JAVA, ROOT, STUBS, compile_java

from fieldapp.android.__main__ import main
from fieldapp.android.manifest_hook import with_parts
from fieldapp.android.staging import StagingError, stage

ANDROID = ROOT / "fieldapp" / "android"
P4A = Path(pythonforandroid.__file__).parent
FRAMEWORK = Path("/usr/share/android-framework-res/framework-res.apk")
#: What python-for-android builds by recipes; the others are wheels.
BY_RECIPE = {"python3", "hostpython3", "kivy", "pyjnius", "pillow", "sqlite3", "openssl"}


@pytest.fixture(scope="module")
def spec() -> configparser.SectionProxy:
    parser = configparser.ConfigParser(allow_no_value=True, interpolation=None)
    parser.read(ANDROID / "buildozer.spec")
    return parser["app"]


def listed(text: str) -> list[str]:
    return [part.strip() for part in text.split(",")]


@pytest.fixture(scope="module")
def staged(tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("stage")
    stage(folder)
    return folder


def python(script: str, cwd: Path, *options: str, **environment: str) -> str:
    """Run a script in a process of its own and return what it printed."""
    done = subprocess.run(
        [sys.executable, *options, "-c", script],
        cwd=cwd,
        env=os.environ | environment,
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_buildozer_takes_the_spec():
    """Every token that buildozer asks for is there and well formed."""
    script = (
        "from buildozer import Buildozer\n"
        "tool = Buildozer(filename='buildozer.spec', target=None)\n"
        "tool.check_configuration_tokens()\n"
        "print(tool.config.get('app', 'package.name'))"
    )
    assert python(script, ANDROID).split()[-1] == "rounds"


def test_the_recipes_fit_together(spec):
    """python-for-android finds an order to build in, for the releases that the spec names."""
    script = f"""
import json, tempfile
from pythonforandroid.build import Context
from pythonforandroid.graph import get_recipe_order_and_bootstrap
from pythonforandroid.recipe import Recipe
wanted = dict((each.partition("==")[::2]) for each in {listed(spec["requirements"])!r})
context = Context(); context.setup_dirs(tempfile.mkdtemp())
context.local_recipes = {str(ANDROID / spec["p4a.local_recipes"])!r}
order, modules, bootstrap = get_recipe_order_and_bootstrap(context, list(wanted), None)
versions = {{name: Recipe.get_recipe(name, context).version for name in order}}
kinds = {{name: type(Recipe.get_recipe(name, context)).__mro__[1].__name__ for name in order}}
print(json.dumps([bootstrap.name, order, sorted(modules), versions, kinds]))
"""
    bootstrap, order, modules, versions, kinds = json.loads(python(script, ROOT).splitlines()[-1])
    assert bootstrap == spec["p4a.bootstrap"] == "sdl2"
    assert set(order) >= BY_RECIPE
    assert versions["python3"] == "3.14.2"
    for name, _, version in (each.partition("==") for each in listed(spec["requirements"])):
        if name in order and version:
            assert versions[name] == version, name
        assert name in order or name in modules, name
    # Of the recipe that comes with python-for-android reportlab would be one of long ago.
    assert kinds["reportlab"] == kinds["charset_normalizer"] == "PyProjectRecipe"
    assert not {"cryptography", "pydantic-core", "numpy"} & {*order, *modules}


def test_the_spec_pins_what_it_builds_with(spec):
    """Not whatever master is that day: the release whose recipes the tests look at."""
    lines = (ROOT / ".ci" / "constraints.txt").read_text().splitlines()
    [release] = [line for line in lines if line.startswith("python-for-android==")]
    year, month, day = re.fullmatch(r"v(\d+)\.(\d\d)\.(\d\d)", spec["p4a.commit"]).groups()
    assert release == f"python-for-android=={year}.{int(month)}.{int(day)}"


def test_the_phone_has_the_releases_that_the_tests_run_on(spec):
    """Each wheel in the package is the release in .ci/constraints.txt."""
    lines = (ROOT / ".ci" / "constraints.txt").read_text().splitlines()
    pinned = {
        name.lower().replace("-", "_"): version
        for name, _, version in (one.partition("==") for one in lines)
    }
    for each in listed(spec["requirements"]):
        name, _, version = each.partition("==")
        if name not in BY_RECIPE:
            assert version == pinned[name], name
            assert "-" not in name  # or python-for-android fetches it twice


def test_the_version_is_the_programs(spec):
    """One number, on the phone and off it."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    assert spec["version"] == project["version"]


def test_the_permissions_are_those_that_are_used_and_no_others(spec):
    """Each is one that a keeper can be told the use of; records leave in no system's backup."""
    assert set(listed(spec["android.permissions"])) == {
        "INTERNET",
        "ACCESS_FINE_LOCATION",
        "ACCESS_COARSE_LOCATION",
        "POST_NOTIFICATIONS",
        "VIBRATE",
        "RECEIVE_BOOT_COMPLETED",
    }
    assert spec["android.allow_backup"] == "False"
    assert spec["orientation"] == "portrait"


def test_each_dependency_is_pure_or_made_for_android(spec, tmp_path):
    """There is a wheel of each, and of all that they need, for Python 3.14 on a phone."""
    wheels = [each for each in listed(spec["requirements"]) if each.split("==")[0] not in BY_RECIPE]
    resolve = [sys.executable, "-m", "pip", "install", "--dry-run", "--ignore-installed"]
    resolve += ["--only-binary=:all:", "--target", str(tmp_path / "none"), "--quiet"]
    resolve += [f"--platform=android_{spec['android.minapi']}_arm64_v8a"]
    resolve += ["--python-version", "3.14.2", "--report", str(tmp_path / "report.json")]
    # reportlab needs Pillow, which a recipe builds: of what it needs only that may be missing.
    alone = [each for each in wheels if each.startswith("reportlab")]
    whole = [each for each in wheels if each not in alone]
    found = {}
    for options, names in (([], whole), (["--no-deps"], alone)):
        done = subprocess.run(
            [*resolve, *options, *names], capture_output=True, text=True, check=False, timeout=120
        )
        assert done.returncode == 0, f"pip could not resolve (is there a network?):\n{done.stderr}"
        report = json.loads((tmp_path / "report.json").read_text())
        for each in report["install"]:
            file = each["download_info"]["url"].rpartition("/")[2]
            found[each["metadata"]["name"].lower().replace("-", "_")] = file
            needs = each["metadata"].get("requires_dist", [])
            if options:
                plain = {re.split(r"[^\w-]", need)[0] for need in needs if "extra ==" not in need}
                assert plain == {"pillow", "charset-normalizer"}
    assert {each.split("==")[0].replace("-", "_") for each in wheels} == set(found)
    for file in found.values():
        assert re.search(r"-none-any\.whl$|android_\d+_arm64_v8a\.whl$", file), file


def test_what_is_staged_is_what_ships(staged):
    """The program and its assets; no tests, no server, no demo, nothing of this machine."""
    app = staged / "app"
    assert (app / "main.py").is_file()
    assert (app / "assets" / "treatments").is_dir()
    assert sorted(path.name for path in app.iterdir()) == ["assets", "fieldapp", "main.py"]
    package = app / "fieldapp"
    assert not any((package / name).exists() for name in ("android", "demo", "__main__.py"))
    assert (package / "device" / "android" / "position.py").is_file()
    assert not list(app.rglob("__pycache__"))
    assert (staged / "icon.png").read_bytes().startswith(b"\x89PNG")


def test_buildozer_packs_every_file_that_is_staged(staged, spec):
    """A file of a kind that the spec does not list would silently be missing on the phone."""
    kinds = set(listed(spec["source.include_exts"]))
    files = [path for path in (staged / "app").rglob("*") if path.is_file()]
    assert {path.suffix.lstrip(".") for path in files} <= kinds
    assert {"toml", "ttf", "py"} <= {path.suffix.lstrip(".") for path in files}


def test_the_spec_looks_where_the_command_stages(spec):
    """The same folder of the checkout, and git does not see it."""
    assert (ANDROID / spec["source.dir"]).resolve() == ROOT / ".stage" / "app"
    assert "/.stage/" in (ROOT / ".gitignore").read_text().splitlines()
    for name in ("icon.filename", "presplash.filename"):
        assert (ANDROID / spec[name]).resolve() == ROOT / ".stage" / "icon.png"
    for name in ("android.add_src", "p4a.hook"):
        assert (ANDROID / spec[name]).exists()


def test_every_language_ships_compiled_and_not_as_source(staged):
    """The phone reads the compiled catalogues; what translators read stays here."""
    words = staged / "app" / "assets" / "words"
    shipped = {path.relative_to(words).as_posix() for path in words.rglob("*.*")}
    assert shipped == {"de/LC_MESSAGES/apiary.mo"}


def test_staging_again_leaves_nothing_of_before_and_keeps_builds(tmp_path):
    """A file that the program no longer has is not packed again."""
    stage(tmp_path)
    (tmp_path / "app" / "fieldapp" / "old.py").write_text("")
    (tmp_path / "build").mkdir()
    stage(tmp_path)
    assert not (tmp_path / "app" / "fieldapp" / "old.py").exists()
    assert (tmp_path / "build").exists()


def test_staging_takes_nothing_away_that_it_did_not_make(tmp_path):
    """A folder of somebody's own is named, and stays; so is a checkout that is none."""
    (tmp_path / "app").mkdir()
    (tmp_path / "app" / "records.db").write_text("mine")
    done = CliRunner().invoke(main, ["stage", "--into", str(tmp_path)])
    assert done.exit_code == 1
    assert "was not made by this command" in done.output
    assert (tmp_path / "app" / "records.db").read_text() == "mine"
    with pytest.raises(StagingError, match="checkout"):
        stage(tmp_path, root=tmp_path)


def test_what_is_staged_runs_as_a_phone_runs_it(staged, tmp_path):
    """Without asserts and docstrings, from its own folder: main.py opens journal, rules and book.

    The window is replaced by a look at what would be on it.
    """
    script = f"""
import runpy, sys
sys.path[:0] = [{str(staged / "app")!r}, {str(ROOT / "tests" / "android" / "stubs_py")!r}]
import fieldapp.run
def look(folder, size, place):
    from fieldapp.bootstrap import bootstrap, close
    from fieldapp.rounds.setup import COUNTRIES, Setup
    from fieldapp.words import Speech
    kit = bootstrap(folder, main=lambda work: work(), zone="Europe/London")
    setup = Setup(kit.notebook)
    setup.country = next(each for each in COUNTRIES if each.code == "GB"); setup.hives = 3
    setup.finish()
    from fieldapp.rounds.due import Due
    from fieldapp.rounds.starting import Start
    start = Start.at(kit.notebook, kit.notebook.local.get("apiary"))
    start.treatment = "GB/AN-00561-2015/2015/amitraz/strips"; start.settle_amount()
    round = start.begin()
    for stop in kit.notebook.book.walk(kit.notebook.local.get("apiary"), kit.notebook.today()):
        round.tap(stop.hive)
    round.end()
    say = Speech()
    print([say(line.what) + say(line.where) for line in Due(kit.notebook).lines()])
    print(fieldapp.__file__)
    close(kit)
fieldapp.run.run = look
runpy.run_path({str(staged / "app" / "main.py")!r}, run_name="__main__")
"""
    told = python(script, tmp_path, "-OO", ANDROID_PRIVATE=str(tmp_path))
    assert "Amitraz strips: the day after" in told
    assert "3 hives" in told
    assert str(staged) in told
    assert (tmp_path / "records" / "journal.db").is_file()


def test_help_comes_without_asserts_and_docstrings():
    """-OO strips docstrings: the command still starts and names its options."""
    done = subprocess.run(
        [sys.executable, "-OO", "-m", "fieldapp", "--help"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    assert done.returncode == 0
    assert "--data" in done.stdout


def test_nothing_that_ships_validates_with_assert(staged):
    """On a phone an assert is not there."""
    found = [
        f"{path.name}:{number}"
        for path in (staged / "app").rglob("*.py")
        for number, line in enumerate(path.read_text().splitlines(), 1)
        if re.match(r"\s*assert\b", line)
    ]
    assert found == []


def test_the_java_compiles_for_the_phones_tools(tmp_path):
    """Java 8 as python-for-android's gradle takes it, every warning an error."""
    compile_java(tmp_path, STUBS, JAVA)
    names = {path.stem for path in (tmp_path / "org/apiaryrounds/rounds").glob("*.class")}
    assert names == {
        *("AlarmReceiver", "Asking", "PhotoProvider", "Reminders", "RestoreReceiver", "Sharing"),
        *("RoundsActivity", "RoundsActivity$VolumeKeys"),
    }


def manifest(folder: Path, spec: configparser.SectionProxy) -> Path:
    """Make the manifest as python-for-android does: its template, the hook, what the spec says."""
    template = P4A / "bootstraps" / "_sdl_common" / "build" / "templates"
    (folder / "templates").mkdir()
    shutil.copy(template / "AndroidManifest.tmpl.xml", folder / "templates")
    hook = f"import runpy; runpy.run_path({str(ANDROID / 'manifest_hook.py')!r})"
    python(f"{hook}['before_apk_build'](None)", folder)
    permissions = [
        {"name": f"android.permission.{each}"} for each in listed(spec["android.permissions"])
    ]
    arguments = SimpleNamespace(
        numeric_version="1",
        version=spec["version"],
        min_sdk_version=int(spec["android.minapi"]),
        permissions=permissions,
        package=f"{spec['package.domain']}.{spec['package.name']}",
        allow_backup=spec["android.allow_backup"].lower(),
        extra_manifest_xml="",
        extra_manifest_application_arguments="",
        android_apptheme="@android:style/Theme.NoTitleBar",
        window=True,
        android_entrypoint=spec["android.entrypoint"],
        manifest_orientation=spec["orientation"],
        meta_data=[],
        android_used_libs=[],
        add_activity=[],
        intent_filters="",
    )
    text = jinja2.Template((folder / "templates" / "AndroidManifest.tmpl.xml").read_text()).render(
        args=arguments,
        service=False,
        service_data=[],
        native_services=[],
        android_api=int(spec["android.api"]),
        debug=False,
        url_scheme="kivy",
    )
    # gradle names the package; aapt wants it in the manifest, and the resources that it refers to.
    text = text.replace("<manifest ", f'<manifest package="{arguments.package}" ', 1)
    path = folder / "AndroidManifest.xml"
    path.write_text(text)
    values = folder / "res" / "values"
    values.mkdir(parents=True)
    (values / "all.xml").write_text(
        '<resources><string name="app_name">Apiary Rounds</string>'
        '<style name="KivySupportCutout"/><item name="icon" type="mipmap">@null</item></resources>'
    )
    return path


def test_the_manifest_has_receivers_and_provider_by_aapt_of_debian_12(tmp_path, spec):
    """Compiled by Android's own tool, of API 29: all of it there, exported to nobody."""
    assert shutil.which("aapt"), "aapt is not there: apt-get install aapt"
    assert FRAMEWORK.exists(), "not there: apt-get install android-framework-res"
    path = manifest(tmp_path, spec)
    package = tmp_path / "out.apk"
    build = ["aapt", "package", "-f", "-M", str(path), "-S", str(tmp_path / "res")]
    made = subprocess.run(
        [*build, "-I", str(FRAMEWORK), "-F", str(package)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert made.returncode == 0, made.stderr
    dump = ["aapt", "dump", "xmltree", str(package), "AndroidManifest.xml"]
    tree = subprocess.run(dump, capture_output=True, text=True, check=True).stdout
    receivers = re.split(r"E: receiver", tree)[1:]
    assert len(receivers) == 2
    for part, name in zip(receivers, ("AlarmReceiver", "RestoreReceiver"), strict=True):
        assert f'"org.apiaryrounds.rounds.{name}"' in part
        assert re.search(r"android:exported\([^)]*\)=\(type 0x12\)0x0\b", part)
        assert (JAVA / "org" / "apiaryrounds" / "rounds" / f"{name}.java").exists()
    [started] = re.findall(r'E: activity.*?android:name[^"]*"([^"]*)"', tree, re.DOTALL)
    assert started == "org.apiaryrounds.rounds.RoundsActivity"
    [provider] = re.split(r"E: provider", tree)[1:]
    provider = provider.partition("E: receiver")[0]
    assert '"org.apiaryrounds.rounds.PhotoProvider"' in provider
    assert re.search(r"android:exported\([^)]*\)=\(type 0x12\)0x0\b", provider)
    assert re.search(r"android:grantUriPermissions\([^)]*\)=\(type 0x12\)0xffffffff\b", provider)
    [authority] = re.findall(r'android:authorities[^"]*"([^"]*)"', provider)
    served = JAVA / "org" / "apiaryrounds" / "rounds" / "PhotoProvider.java"
    assert f'AUTHORITY = "{authority}"' in served.read_text()
    actions = set(re.findall(r'"android\.intent\.action\.(\w+)" \(Raw', receivers[1]))
    assert actions == {"BOOT_COMPLETED", "MY_PACKAGE_REPLACED", "TIMEZONE_CHANGED", "TIME_SET"}
    badging = subprocess.run(
        ["aapt", "dump", "badging", str(package)], capture_output=True, text=True, check=False
    ).stdout
    for each in listed(spec["android.permissions"]):
        assert f"uses-permission: name='android.permission.{each}'" in badging
    assert f"targetSdkVersion:'{spec['android.api']}'" in badging
    assert re.search(r"android:allowBackup\([^)]*\)=\(type 0x12\)0x0\b", tree)


def test_the_hook_adds_once_and_refuses_a_template_that_it_does_not_know():
    """Building again adds nothing; a changed template ends the build instead of the reminders."""
    once = with_parts("<application>\n    </application>")
    assert once.count("<receiver") == 2
    assert with_parts(once) == once
    with pytest.raises(ValueError, match="no reminders could ring"):
        with_parts("<manifest/>")
