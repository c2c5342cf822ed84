package android.app;

public class NotificationChannel {
    final String id;

    public NotificationChannel(String id, CharSequence name, int importance) {
        this.id = id;
    }
}
