package android.content.pm;

import android.content.Intent;

public class PackageManager {
    public static boolean camera = true;

    public boolean hasSystemFeature(String name) {
        return name.equals("android.hardware.camera.any") && camera;
    }

    public Intent getLaunchIntentForPackage(String name) {
        return new Intent("android.intent.action.MAIN");
    }
}
