package android.app;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/** Shows only what has a channel, as the system does since Android 8. */
public class NotificationManager {
    public static final int IMPORTANCE_DEFAULT = 3;
    public boolean wanted = true;
    public final List<String> shown = new ArrayList<>();
    private final Set<String> channels = new HashSet<>();

    public boolean areNotificationsEnabled() {
        return wanted;
    }

    public void createNotificationChannel(NotificationChannel channel) {
        channels.add(channel.id);
    }

    public void notify(int id, Notification notification) {
        if (channels.contains(notification.channel) && notification.opens != null) {
            shown.add(id + "|" + notification.title + "|" + notification.text);
        }
    }
}
