package android.provider;

import android.net.Uri;

public final class MediaStore {
    public static final String ACTION_IMAGE_CAPTURE = "android.media.action.IMAGE_CAPTURE";
    public static final String EXTRA_OUTPUT = "output";

    public interface MediaColumns {
        String DISPLAY_NAME = "_display_name";
        String MIME_TYPE = "mime_type";
    }

    public static final class Downloads {
        public static final Uri EXTERNAL_CONTENT_URI =
                Uri.parse("content://media/external/downloads");
    }
}
