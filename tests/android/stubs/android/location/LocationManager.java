package android.location;

import android.os.Looper;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

public class LocationManager {
    public List<String> on = new ArrayList<>(Arrays.asList("passive", "gps", "network"));
    public String refuses = "";
    public Location last;
    public LocationListener listener;
    public final List<String> asked = new ArrayList<>();

    public void switchOn(String names) {
        on = Arrays.asList(names.split(","));
    }

    public List<String> getProviders(boolean enabledOnly) {
        return on;
    }

    public void requestLocationUpdates(
            String name, long every, float metres, LocationListener listener, Looper looper) {
        if (refuses.equals(name)) {
            throw new SecurityException(name + " requires ACCESS_FINE_LOCATION");
        }
        asked.add(name);
        this.listener = listener;
    }

    public Location getLastKnownLocation(String name) {
        return name.equals("gps") ? last : null;
    }

    public void removeUpdates(LocationListener listener) {
        this.listener = null;
    }

    public void one(Location location) {
        listener.onLocationChanged(location);
    }

    public void batch(Location first, Location second) {
        listener.onLocationChanged(Arrays.asList(first, second));
    }

    public void others() {
        listener.onFlushComplete(1);
        listener.onProviderEnabled("gps");
        listener.onProviderDisabled("gps");
        listener.onStatusChanged("gps", 2, null);
    }
}
