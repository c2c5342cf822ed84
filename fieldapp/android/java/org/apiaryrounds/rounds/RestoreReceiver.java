package org.apiaryrounds.rounds;

import android.content.BroadcastReceiver;
import android.content.Context;
import android.content.Intent;

/** Arms the reminders again where the system forgets alarms, or where their instants changed. */
public final class RestoreReceiver extends BroadcastReceiver {
    @Override
    public void onReceive(Context context, Intent intent) {
        switch (String.valueOf(intent.getAction())) {
            case Intent.ACTION_BOOT_COMPLETED:
            case Intent.ACTION_MY_PACKAGE_REPLACED:
            case Intent.ACTION_TIMEZONE_CHANGED:
            case Intent.ACTION_TIME_CHANGED:
                Reminders.arm(context);
                break;
            default:
                break;
        }
    }
}
