package android.content;

import android.content.pm.PackageManager;
import java.io.File;

public abstract class Context {
    public static final int MODE_PRIVATE = 0;
    public static final String ALARM_SERVICE = "alarm";
    public static final String LOCATION_SERVICE = "location";
    public static final String NOTIFICATION_SERVICE = "notification";
    public static final String NSD_SERVICE = "servicediscovery";
    public static final String VIBRATOR_SERVICE = "vibrator";

    public abstract Object getSystemService(String name);

    public abstract SharedPreferences getSharedPreferences(String name, int mode);

    public abstract PackageManager getPackageManager();

    public abstract String getPackageName();

    public abstract ContentResolver getContentResolver();

    public abstract File getFilesDir();

    public abstract void startActivity(Intent intent);
}
