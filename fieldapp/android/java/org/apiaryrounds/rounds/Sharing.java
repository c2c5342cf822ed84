package org.apiaryrounds.rounds;

import android.content.ContentResolver;
import android.content.ContentValues;
import android.content.Context;
import android.content.Intent;
import android.net.Uri;
import android.provider.CalendarContract;
import android.provider.MediaStore;
import java.io.IOException;
import java.io.OutputStream;

/**
 * Files and days for other programs, by intents: no permission is needed. In Java because an
 * intent's extras are told apart by their types, which Python's numbers do not have.
 */
public final class Sharing {
    private Sharing() {}

    /** Keep a file in Downloads, where the system has it since API level 29. */
    public static Uri keep(Context context, String name, String media, byte[] data)
            throws IOException {
        ContentValues values = new ContentValues();
        values.put(MediaStore.MediaColumns.DISPLAY_NAME, name);
        values.put(MediaStore.MediaColumns.MIME_TYPE, media);
        ContentResolver resolver = context.getContentResolver();
        Uri uri = resolver.insert(MediaStore.Downloads.EXTERNAL_CONTENT_URI, values);
        if (uri == null) {
            throw new IOException("Downloads took no file");
        }
        try (OutputStream out = resolver.openOutputStream(uri)) {
            out.write(data);
        }
        return uri;
    }

    /** Let the keeper choose whom to send a kept file to. */
    public static void send(Context context, Uri uri, String media, String title) {
        Intent intent = new Intent(Intent.ACTION_SEND).setType(media);
        intent.putExtra(Intent.EXTRA_STREAM, uri);
        intent.addFlags(Intent.FLAG_GRANT_READ_URI_PERMISSION);
        context.startActivity(Intent.createChooser(intent, title));
    }

    /** Let the keeper choose whom to send a text to. */
    public static void text(Context context, String text, String title) {
        Intent intent = new Intent(Intent.ACTION_SEND).setType("text/plain");
        intent.putExtra(Intent.EXTRA_TEXT, text);
        context.startActivity(Intent.createChooser(intent, title));
    }

    /** Open the calendar with an all-day event; begin and end are midnights UTC in milliseconds. */
    public static void calendar(
            Context context, String title, String text, long begin, long end) {
        Intent intent =
                new Intent(Intent.ACTION_INSERT)
                        .setData(CalendarContract.Events.CONTENT_URI)
                        .putExtra(CalendarContract.Events.TITLE, title)
                        .putExtra(CalendarContract.Events.DESCRIPTION, text)
                        .putExtra(CalendarContract.EXTRA_EVENT_ALL_DAY, true)
                        .putExtra(CalendarContract.EXTRA_EVENT_BEGIN_TIME, begin)
                        .putExtra(CalendarContract.EXTRA_EVENT_END_TIME, end);
        context.startActivity(intent);
    }
}
