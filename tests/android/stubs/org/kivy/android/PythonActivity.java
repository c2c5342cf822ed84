package org.kivy.android;

import android.app.Activity;
import android.app.AlarmManager;
import android.app.NotificationManager;
import android.content.ActivityNotFoundException;
import android.content.ContentResolver;
import android.content.Intent;
import android.content.SharedPreferences;
import android.content.pm.PackageManager;
import android.location.LocationManager;
import android.net.nsd.NsdManager;
import android.os.Vibrator;
import java.io.File;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** The activity with a system behind it whose state the tests read and set. */
public class PythonActivity extends Activity {
    public static PythonActivity mActivity = new PythonActivity();
    public final AlarmManager alarms = new AlarmManager();
    public final NotificationManager notifications = new NotificationManager();
    public final LocationManager locations = new LocationManager();
    public final NsdManager network = new NsdManager();
    public final Vibrator vibrator = new Vibrator();
    public final ContentResolver resolver = new ContentResolver();
    public final List<Intent> started = new ArrayList<>();
    public final List<Integer> requests = new ArrayList<>();
    public final List<ActivityResultListener> listeners = new ArrayList<>();

    /** Whether another program answers to requests. */
    public boolean answered = true;

    private final Map<String, String> kept = new HashMap<>();

    @Override
    public Object getSystemService(String name) {
        switch (name) {
            case ALARM_SERVICE:
                return alarms;
            case NOTIFICATION_SERVICE:
                return notifications;
            case LOCATION_SERVICE:
                return locations;
            case NSD_SERVICE:
                return network;
            case VIBRATOR_SERVICE:
                return vibrator;
            default:
                return null;
        }
    }

    @Override
    public SharedPreferences getSharedPreferences(String file, int mode) {
        return new SharedPreferences() {
            @Override
            public String getString(String key, String otherwise) {
                return kept.getOrDefault(file + key, otherwise);
            }

            @Override
            public Editor edit() {
                Map<String, String> changes = new HashMap<>();
                return new Editor() {
                    @Override
                    public Editor putString(String key, String value) {
                        changes.put(file + key, value);
                        return this;
                    }

                    @Override
                    public boolean commit() {
                        kept.putAll(changes);
                        return true;
                    }
                };
            }
        };
    }

    @Override
    public PackageManager getPackageManager() {
        return new PackageManager();
    }

    @Override
    public String getPackageName() {
        return "org.apiaryrounds.rounds";
    }

    @Override
    public ContentResolver getContentResolver() {
        return resolver;
    }

    @Override
    public File getFilesDir() {
        return new File(System.getProperty("stub.files", "/none"));
    }

    /** As the class of that name of python-for-android. */
    public interface ActivityResultListener {
        void onActivityResult(int request, int result, Intent data);
    }

    public void registerActivityResultListener(ActivityResultListener listener) {
        listeners.add(listener);
    }

    /** Have the other program end. */
    public void result(int request, int result, Intent data) {
        for (ActivityResultListener listener : listeners) {
            listener.onActivityResult(request, result, data);
        }
    }

    @Override
    public void startActivityForResult(Intent intent, int request) {
        if (!answered) {
            throw new ActivityNotFoundException("No Activity found to handle " + intent.action);
        }
        started.add(intent);
        requests.add(request);
    }

    @Override
    public void startActivity(Intent intent) {
        started.add(intent);
    }
}
