package android.app;

import android.content.Context;
import java.util.HashMap;
import java.util.Map;
import java.util.TreeMap;

/** Keeps what is armed, by the number of its PendingIntent, as the system does. */
public class AlarmManager {
    public static final int RTC_WAKEUP = 0;
    public final TreeMap<Integer, Long> armed = new TreeMap<>();
    private final Map<Integer, PendingIntent> given = new HashMap<>();

    public void setAndAllowWhileIdle(int type, long at, PendingIntent operation) {
        if (type != RTC_WAKEUP) {
            throw new IllegalArgumentException("would not wake the phone");
        }
        armed.put(operation.number, at);
        given.put(operation.number, operation);
    }

    public void cancel(PendingIntent operation) {
        armed.remove(operation.number);
    }

    /** Ring, be it too late: an alarm may be on its way when it is cancelled. */
    public void ring(Context context, int number) {
        armed.remove(number);
        given.get(number).send(context);
    }

    public String told() {
        return armed.toString();
    }
}
