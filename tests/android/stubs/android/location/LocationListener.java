package android.location;

import android.os.Bundle;
import java.util.List;

/** No default methods: whoever implements this must have all of them, as in Java before 8. */
public interface LocationListener {
    void onLocationChanged(Location location);

    void onLocationChanged(List<Location> locations);

    void onFlushComplete(int request);

    void onProviderEnabled(String name);

    void onProviderDisabled(String name);

    void onStatusChanged(String name, int status, Bundle more);
}
