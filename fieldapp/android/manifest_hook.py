"""A hook of python-for-android: adds receivers and a provider to the manifest's template.

It is loaded by python-for-android from this file alone, so it imports nothing of the program.
"""

from __future__ import annotations

from pathlib import Path

TEMPLATE = Path("templates") / "AndroidManifest.tmpl.xml"
END = "</application>"
#: Not exported: only the system, the app's own alarms, and the camera that a photo was asked of,
#: by a grant for that one photo, may call them.
PARTS = """\
        <provider android:name="org.apiaryrounds.rounds.PhotoProvider"
                  android:authorities="org.apiaryrounds.rounds.photos"
                  android:exported="false"
                  android:grantUriPermissions="true" />
        <receiver android:name="org.apiaryrounds.rounds.AlarmReceiver"
                  android:exported="false" />
        <receiver android:name="org.apiaryrounds.rounds.RestoreReceiver"
                  android:exported="false">
            <intent-filter>
                <action android:name="android.intent.action.BOOT_COMPLETED" />
                <action android:name="android.intent.action.MY_PACKAGE_REPLACED" />
                <action android:name="android.intent.action.TIMEZONE_CHANGED" />
                <action android:name="android.intent.action.TIME_SET" />
            </intent-filter>
        </receiver>
"""


def before_apk_build(_toolchain: object) -> None:
    """Add them; python-for-android stands in the folder of its distribution."""
    text = TEMPLATE.read_text(encoding="utf-8")
    TEMPLATE.write_text(with_parts(text), encoding="utf-8")


def with_parts(template: str) -> str:
    """Return the template with receivers and provider, once however often it is built.

    Raises `ValueError` where the template is not of the form that is known.
    """
    if PARTS in template:
        return template
    if template.count(END) != 1:
        raise ValueError(f"The manifest's template has no single {END}: no reminders could ring.")
    return template.replace(END, f"{PARTS}    {END}")
