package android.location;

import android.os.SystemClock;

public class Location {
    private final double latitude;
    private final double longitude;
    private final Float accuracy;
    private final long at;
    private String provider = "network";
    private long time;
    private boolean made;

    public Location(double latitude, double longitude, double accuracy, double age) {
        this.latitude = latitude;
        this.longitude = longitude;
        this.accuracy = accuracy < 0 ? null : (float) accuracy;
        this.at = SystemClock.elapsedRealtimeNanos() - (long) (age * 1e9);
    }

    /** A fix of this provider; `made` by a program that the developer options let make positions. */
    public Location by(String provider, long time, boolean made) {
        this.provider = provider;
        this.time = time;
        this.made = made;
        return this;
    }

    public String getProvider() {
        return provider;
    }

    public long getTime() {
        return time;
    }

    public boolean isFromMockProvider() {
        return made;
    }

    public double getLatitude() {
        return latitude;
    }

    public double getLongitude() {
        return longitude;
    }

    public boolean hasAccuracy() {
        return accuracy != null;
    }

    public float getAccuracy() {
        return accuracy == null ? 0.0f : accuracy;
    }

    public long getElapsedRealtimeNanos() {
        return at;
    }
}
