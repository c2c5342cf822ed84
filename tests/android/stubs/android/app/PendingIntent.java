package android.app;

import android.content.BroadcastReceiver;
import android.content.Context;
import android.content.Intent;

public class PendingIntent {
    public static final int FLAG_UPDATE_CURRENT = 1 << 27;
    public static final int FLAG_IMMUTABLE = 1 << 26;
    public static final int FLAG_MUTABLE = 1 << 25;
    public final int number;
    public final Intent intent;

    private PendingIntent(int number, Intent intent, int flags) {
        if ((flags & (FLAG_IMMUTABLE | FLAG_MUTABLE)) == 0) {
            throw new IllegalArgumentException(
                    "Targeting S+ requires that one of FLAG_IMMUTABLE or FLAG_MUTABLE be specified");
        }
        this.number = number;
        this.intent = intent;
    }

    public static PendingIntent getActivity(Context context, int number, Intent intent, int flags) {
        return new PendingIntent(number, intent, flags);
    }

    public static PendingIntent getBroadcast(
            Context context, int number, Intent intent, int flags) {
        return new PendingIntent(number, intent, flags);
    }

    /** Call the receiver that the intent names, as the system does. */
    void send(Context context) {
        try {
            BroadcastReceiver receiver =
                    (BroadcastReceiver) intent.receiver.getDeclaredConstructor().newInstance();
            receiver.onReceive(context, intent);
        } catch (ReflectiveOperationException error) {
            throw new IllegalStateException(error);
        }
    }
}
