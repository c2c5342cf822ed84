package org.apiaryrounds.rounds;

import android.content.BroadcastReceiver;
import android.content.Context;
import android.content.Intent;

/** Shows a reminder when its time has come. Python is not started for it. */
public final class AlarmReceiver extends BroadcastReceiver {
    static final String NUMBER = "number";
    private static final int NONE = -1;

    @Override
    public void onReceive(Context context, Intent intent) {
        Reminders.ring(context, intent.getIntExtra(NUMBER, NONE));
    }
}
