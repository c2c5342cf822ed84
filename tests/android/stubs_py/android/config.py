"""Names of the classes of a package."""

ACTIVITY_CLASS_NAME = "org.kivy.android.PythonActivity"
JNI_NAMESPACE = "org/kivy/android"
JAVA_NAMESPACE = "org.kivy.android"
ACTIVITY_CLASS_NAMESPACE = "org/kivy/android/PythonActivity"
