"""The app's own folder."""

import os


def app_storage_path() -> str:
    return os.environ["ANDROID_PRIVATE"]
