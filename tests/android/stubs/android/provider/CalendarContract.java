package android.provider;

import android.net.Uri;

public final class CalendarContract {
    public static final String EXTRA_EVENT_ALL_DAY = "allDay";
    public static final String EXTRA_EVENT_BEGIN_TIME = "beginTime";
    public static final String EXTRA_EVENT_END_TIME = "endTime";

    public static final class Events {
        public static final Uri CONTENT_URI = Uri.parse("content://com.android.calendar/events");
        public static final String TITLE = "title";
        public static final String DESCRIPTION = "description";
    }
}
