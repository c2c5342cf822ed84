package org.apiaryrounds.rounds;

import android.app.Activity;
import android.content.ClipData;
import android.content.Context;
import android.content.Intent;
import android.database.Cursor;
import android.net.Uri;
import android.provider.MediaStore;
import android.provider.OpenableColumns;
import java.io.File;
import java.io.FileOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;

/** What other programs of the phone are asked for: a photo, a file. The answer comes later. */
public final class Asking {
    private static final int PIECE = 1 << 16;

    private Asking() {}

    /** Open the camera for a photo; it is written into the file called name. */
    public static void photo(Activity activity, String name, int request) throws IOException {
        File file = PhotoProvider.file(activity, name);
        file.getParentFile().mkdirs();
        file.createNewFile();
        Uri uri = PhotoProvider.uri(name);
        Intent intent = new Intent(MediaStore.ACTION_IMAGE_CAPTURE);
        intent.putExtra(MediaStore.EXTRA_OUTPUT, uri);
        // Only an address that the intent carries as its clip is granted on every version.
        intent.setClipData(ClipData.newRawUri("", uri));
        intent.addFlags(
                Intent.FLAG_GRANT_WRITE_URI_PERMISSION | Intent.FLAG_GRANT_READ_URI_PERMISSION);
        activity.startActivityForResult(intent, request);
    }

    /** Where the photo called name is written. */
    public static String place(Context context, String name) throws IOException {
        return PhotoProvider.file(context, name).getAbsolutePath();
    }

    /** Let the keeper pick a file of one of the media types, parted by commas. */
    public static void document(Activity activity, String types, int request) {
        String[] each = types.split(",");
        Intent intent = new Intent(Intent.ACTION_OPEN_DOCUMENT);
        intent.addCategory(Intent.CATEGORY_OPENABLE);
        intent.setType(each.length == 1 ? each[0] : "*/*");
        if (each.length > 1) {
            intent.putExtra(Intent.EXTRA_MIME_TYPES, each);
        }
        activity.startActivityForResult(intent, request);
    }

    /** The name of a picked file, empty where its program tells none. */
    public static String name(Context context, Uri uri) {
        String[] columns = {OpenableColumns.DISPLAY_NAME};
        try (Cursor cursor = context.getContentResolver().query(uri, columns, null, null, null)) {
            if (cursor == null || !cursor.moveToFirst() || cursor.isNull(0)) {
                return "";
            }
            return cursor.getString(0);
        }
    }

    /** Copy a picked file, piece by piece: it may be larger than the memory. */
    public static void copy(Context context, Uri uri, String into) throws IOException {
        try (InputStream in = context.getContentResolver().openInputStream(uri);
                OutputStream out = new FileOutputStream(into)) {
            if (in == null) {
                throw new IOException("nothing to read at " + uri);
            }
            byte[] piece = new byte[PIECE];
            for (int length = in.read(piece); length >= 0; length = in.read(piece)) {
                out.write(piece, 0, length);
            }
        }
    }
}
