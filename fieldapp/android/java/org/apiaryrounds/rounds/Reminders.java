package org.apiaryrounds.rounds;

import android.app.AlarmManager;
import android.app.Notification;
import android.app.NotificationChannel;
import android.app.NotificationManager;
import android.app.PendingIntent;
import android.content.Context;
import android.content.Intent;
import java.text.ParseException;
import java.text.SimpleDateFormat;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;

/**
 * The reminders that ring while the app is closed. They are kept as text, one a line: number,
 * local time, title, text, parted by tabs. The local time is turned into an instant each time
 * they are armed, so that seven in the morning stays seven in the morning in another zone.
 */
public final class Reminders {
    private static final String CHANNEL = "due";
    private static final String KEPT = "reminders";
    private static final String LINES = "lines";
    private static final int PARTS = 4;

    private Reminders() {}

    /** Arm these and no others. Called by the app; the same lines again change nothing. */
    public static synchronized void replace(Context context, String lines) {
        Set<Integer> stay = new HashSet<>();
        for (String[] parts : parted(lines)) {
            stay.add(number(parts));
        }
        for (String[] parts : parted(kept(context))) {
            if (!stay.contains(number(parts))) {
                alarms(context).cancel(pending(context, number(parts)));
            }
        }
        keep(context, lines);
        arm(context);
    }

    /** Arm again what is kept: after a start of the phone, an update, a change of clock or zone. */
    public static synchronized void arm(Context context) {
        for (String[] parts : parted(kept(context))) {
            int number = number(parts);
            alarms(context)
                    .setAndAllowWhileIdle(
                            AlarmManager.RTC_WAKEUP, instant(parts[1]), pending(context, number));
        }
    }

    /** Show the reminder that an alarm stands for, and let it go. One that went is not shown. */
    static synchronized void ring(Context context, int number) {
        StringBuilder others = new StringBuilder();
        for (String[] parts : parted(kept(context))) {
            if (number(parts) == number) {
                show(context, number, parts[2], parts[3]);
            } else {
                others.append(String.join("\t", parts)).append('\n');
            }
        }
        keep(context, others.toString());
    }

    /** Show a notification that opens the app; false where the keeper wants none. */
    public static boolean show(Context context, int number, String title, String text) {
        NotificationManager manager =
                (NotificationManager) context.getSystemService(Context.NOTIFICATION_SERVICE);
        if (!manager.areNotificationsEnabled()) {
            return false;
        }
        manager.createNotificationChannel(
                new NotificationChannel(
                        CHANNEL, "Apiary Rounds", NotificationManager.IMPORTANCE_DEFAULT));
        Intent open =
                context.getPackageManager().getLaunchIntentForPackage(context.getPackageName());
        manager.notify(
                number,
                new Notification.Builder(context, CHANNEL)
                        .setSmallIcon(android.R.drawable.ic_popup_reminder)
                        .setContentTitle(title)
                        .setContentText(text)
                        .setStyle(new Notification.BigTextStyle().bigText(text))
                        .setContentIntent(
                                PendingIntent.getActivity(
                                        context, 0, open, PendingIntent.FLAG_IMMUTABLE))
                        .setAutoCancel(true)
                        .build());
        return true;
    }

    private static PendingIntent pending(Context context, int number) {
        Intent intent =
                new Intent(context, AlarmReceiver.class).putExtra(AlarmReceiver.NUMBER, number);
        return PendingIntent.getBroadcast(
                context,
                number,
                intent,
                PendingIntent.FLAG_UPDATE_CURRENT | PendingIntent.FLAG_IMMUTABLE);
    }

    private static AlarmManager alarms(Context context) {
        return (AlarmManager) context.getSystemService(Context.ALARM_SERVICE);
    }

    private static String kept(Context context) {
        return context.getSharedPreferences(KEPT, Context.MODE_PRIVATE).getString(LINES, "");
    }

    private static void keep(Context context, String lines) {
        context.getSharedPreferences(KEPT, Context.MODE_PRIVATE)
                .edit()
                .putString(LINES, lines)
                .commit();
    }

    private static List<String[]> parted(String lines) {
        List<String[]> all = new ArrayList<>();
        for (String line : lines.split("\n")) {
            String[] parts = line.split("\t", PARTS);
            if (parts.length == PARTS) {
                all.add(parts);
            }
        }
        return all;
    }

    private static int number(String[] parts) {
        return Integer.parseInt(parts[0]);
    }

    /** Milliseconds since 1970 of a local time, as 2026-06-14T07:00:00, where the phone is now. */
    private static long instant(String local) {
        try {
            return new SimpleDateFormat("yyyy-MM-dd'T'HH:mm:ss", Locale.ROOT).parse(local).getTime();
        } catch (ParseException error) {
            throw new IllegalArgumentException("not a local time: " + local, error);
        }
    }
}
